namespace Mixscore.Score;

/// <summary>A time signature as printed, which may name several meters.</summary>
/// <param name="Whole">What a bar has where the meters do not take turns: all fractions together, or the first of two that are interchangeable.</param>
/// <param name="Fractions">The meters that are named, in order; at least one.</param>
/// <param name="IsInterchangeable">Whether any bar may have either, as 3/4 (6/8); otherwise they add up, or take turns bar by bar.</param>
internal sealed record MeterSign(Meter Whole, IReadOnlyList<Meter> Fractions, bool IsInterchangeable = false)
{
    internal static MeterSign Of(Meter meter) => new(meter, [meter]);

    public bool Equals(MeterSign? other) => other is not null && Whole.Equals(other.Whole) && Fractions.SequenceEqual(other.Fractions) && IsInterchangeable == other.IsInterchangeable;

    public override int GetHashCode() => Whole.GetHashCode();
}
