using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>How loud a source should be heard.</summary>
public abstract record Level
{
    private Level()
    {
    }

    /// <summary>Not at all.</summary>
    public sealed record Off : Level;

    /// <summary>So many LU over the reference.</summary>
    /// <param name="OverReference">LU; usually below 0.</param>
    /// <param name="Dynamic">The dynamic that it was written as, or <c>null</c> where it was written as a number.</param>
    public sealed record At(Decibels OverReference, string? Dynamic = null) : Level;

    /// <summary>So many LU over (above 0) or under (below 0) other sources together, as they will be heard.</summary>
    /// <param name="Sources">The names of the sources that it leans on; at least one.</param>
    /// <param name="By">LU over them.</param>
    public sealed record Lean(IReadOnlyList<string> Sources, Decibels By) : Level
    {
        /// <inheritdoc/>
        public bool Equals(Lean? other) => other is not null && By == other.By && Sources.SequenceEqual(other.Sources);

        /// <inheritdoc/>
        public override int GetHashCode() => HashCode.Combine(Sources.Count, Sources[0], By);
    }
}
