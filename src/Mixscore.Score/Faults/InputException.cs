namespace Mixscore.Score;

/// <summary>
/// The user's input cannot be used. Carries every fault that was found, so that all are shown at once; the command
/// line prints them and ends with exit code 2.
/// </summary>
public sealed class InputException : Exception
{
    /// <summary>With everything that was found.</summary>
    /// <param name="faults">At least one.</param>
    public InputException(IReadOnlyList<Fault> faults) : base(string.Join(Environment.NewLine, faults))
    {
        if (faults.Count == 0) throw new ArgumentException("an input exception needs a fault", nameof(faults));
        Faults = faults;
    }

    /// <summary>With one fault.</summary>
    public InputException(Fault fault) : this([fault])
    {
    }

    /// <summary>All faults, in the order of their places.</summary>
    public IReadOnlyList<Fault> Faults { get; }
}
