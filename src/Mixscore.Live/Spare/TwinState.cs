using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>What one run tells another of itself: where it is, and some of its sources.</summary>
public sealed record TwinState
{
    /// <summary>The plan and rides that it performs; only the same ones can be followed.</summary>
    public required string PlanKey { get; init; }

    /// <summary>Tells one run of the program from every other.</summary>
    public required long Id { get; init; }

    /// <summary>How often the role has changed hands.</summary>
    public required int Term { get; init; }

    /// <summary>Whether it performs; of one that follows nothing more is told.</summary>
    public required bool IsPerforming { get; init; }

    /// <summary>When this was so: when it is sent on its sender's time, when it has come on the receiver's.</summary>
    public TimeSpan When { get; init; }

    /// <summary>Whether its piece is under way.</summary>
    public RunPhase Phase { get; init; }

    /// <summary>Whether it moves faders.</summary>
    public bool IsArmed { get; init; }

    /// <summary>What its clock says.</summary>
    public Seconds Clock { get; init; }

    /// <summary>How sure its clock is.</summary>
    public ClockState ClockState { get; init; }

    /// <summary>Seconds of score in a second of its clock.</summary>
    public double Rate { get; init; } = 1;

    /// <summary>Where it was begun.</summary>
    public Seconds StartAt { get; init; }

    /// <summary>How far score and clock are apart.</summary>
    public Seconds Apart { get; init; }

    /// <summary>Whether it stays.</summary>
    public StayKind Stay { get; init; }

    /// <summary>Where in the score it is.</summary>
    public Seconds At { get; init; }

    /// <summary>Where it goes at the next barline; <c>null</c> for straight on.</summary>
    public Seconds? JumpsTo { get; init; }

    /// <summary>For how long it has heard none of its desks.</summary>
    public TimeSpan DeskSilent { get; init; }

    /// <summary>The place of the first of <see cref="Sources"/> among the plan's.</summary>
    public int First { get; init; }

    /// <summary>Some of its sources, in the plan's order.</summary>
    public IReadOnlyList<TwinSource> Sources { get; init; } = [];
}

/// <summary>A source's fader, with all that decides how it goes on.</summary>
/// <param name="Holder">Who moves it.</param>
/// <param name="HandDesk">The desk whose fader is in hand; <c>null</c> for none.</param>
/// <param name="Gone">Why its feed is gone; <c>null</c> while it is there.</param>
/// <param name="Gain">Where it is; <c>null</c> is off.</param>
/// <param name="Hand">Where the hand wants it; <c>null</c> is off.</param>
/// <param name="Offset">What the engineer adds to the plan.</param>
/// <param name="DropTo">Where it fades to while the feed is gone; <c>null</c> is off.</param>
/// <param name="Error">How far from the plan it still is while it returns.</param>
/// <param name="Left">For how long it still returns.</param>
/// <param name="BackOver">Over how long it returns once it has caught up with the hand; <c>null</c> while it was not handed back.</param>
public readonly record struct TwinSource(
    Holder Holder, int? HandDesk, DropCause? Gone, Decibels? Gain, Decibels? Hand, Decibels Offset, Decibels? DropTo, Decibels Error, TimeSpan Left, TimeSpan? BackOver);
