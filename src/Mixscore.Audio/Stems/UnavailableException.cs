using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Files could not be opened or written. The command line prints the faults and ends with exit code 3.</summary>
public sealed class UnavailableException : Exception
{
    /// <summary>With everything that was not available.</summary>
    /// <param name="faults">At least one.</param>
    /// <param name="cause">What the system said, or <c>null</c>.</param>
    public UnavailableException(IReadOnlyList<Fault> faults, Exception? cause = null)
        : base(string.Join(Environment.NewLine, faults), cause)
    {
        if (faults.Count == 0) throw new ArgumentException("an exception of this kind needs a fault", nameof(faults));
        Faults = faults;
    }

    /// <summary>What was not available, in the order of the places.</summary>
    public IReadOnlyList<Fault> Faults { get; }
}
