using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// One source over the piece, a value each 10 ms hop of its stem, all in LU over the reference and all through the same
/// centred 3 s window; <c>null</c> where there is nothing to speak of. Arrays are as long as the stem has hops.
/// </summary>
public sealed class SourceTrace
{
    /// <summary>The length of a hop.</summary>
    public static Seconds Hop { get; } = new(0.01);

    /// <summary>How much later than the click the source is heard.</summary>
    public required Seconds Delay { get; init; }

    /// <summary>Whether the source plays in a hop and its marks want it heard.</summary>
    public required IReadOnlyList<bool> Active { get; init; }

    /// <summary>The loudness of the stem as it arrives.</summary>
    public required IReadOnlyList<double?> Stem { get; init; }

    /// <summary>What is heard: the stem through its ride.</summary>
    public required IReadOnlyList<double?> Heard { get; init; }

    /// <summary>What the marks ask.</summary>
    public required IReadOnlyList<double?> Target { get; init; }

    /// <summary>The lowest that is right: the marks, or the lower end of a move between two, less the tolerance.</summary>
    public required IReadOnlyList<double?> Low { get; init; }

    /// <summary>The highest that is right.</summary>
    public required IReadOnlyList<double?> High { get; init; }

    /// <summary>The time by the click of the middle of a hop.</summary>
    public Seconds TimeOf(int hop) => new((hop + 0.5) * Hop.Value - Delay.Value);

    /// <summary>The first hop whose middle is not before a time by the click.</summary>
    public int HopAt(Seconds time) => Math.Clamp((int)Math.Ceiling((time + Delay).Value / Hop.Value - 0.5 - 1e-9), 0, Active.Count);
}
