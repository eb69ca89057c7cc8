namespace Mixscore.Score;

/// <summary>
/// A time signature: groups of beats over a beat unit, such as 4/4, 6/8 or 3+2/8; several fractions (2/4+3/8) are
/// held as beats of different length. A beat is the lower number of the meter, so 6/8 has six.
/// </summary>
/// <param name="Text">As printed, such as <c>6/8</c>, <c>3+2/8</c>; <c>free</c> where the score has no meter.</param>
/// <param name="Beats">The length of each beat in turn; empty where the score has no meter.</param>
public sealed record Meter(string Text, IReadOnlyList<Quarters> Beats)
{
    /// <summary>Four quarters, in force where a score gives nothing.</summary>
    public static Meter Common { get; } = Simple(4, 4);

    /// <summary>A meter of equal beats.</summary>
    /// <param name="beats">How many, 1 or more.</param>
    /// <param name="unit">The lower number: 1, 2, 4, 8 …</param>
    public static Meter Simple(int beats, int unit)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(beats, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(unit, 1);
        return new Meter($"{beats}/{unit}", [.. Enumerable.Repeat(new Quarters(4, unit), beats)]);
    }

    /// <summary>How long a full bar is; zero where the score has no meter.</summary>
    public Quarters Length => Beats.Aggregate(Quarters.Zero, (sum, beat) => sum + beat);

    /// <summary>The length of the beat that a bar without meter, or one longer than its meter, goes on counting.</summary>
    public Quarters Unit => Beats.Count > 0 ? Beats[^1] : new Quarters(1);

    /// <inheritdoc/>
    public bool Equals(Meter? other) => other is not null && Text == other.Text && Beats.SequenceEqual(other.Beats);

    /// <inheritdoc/>
    public override int GetHashCode() => Text.GetHashCode(StringComparison.Ordinal);

    /// <summary>As printed.</summary>
    public override string ToString() => Text;
}
