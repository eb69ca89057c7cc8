using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>What the check found: the mix as a listener hears it, against what the marks ask.</summary>
public sealed record CheckResult
{
    /// <summary>Whether it is good.</summary>
    public required bool IsGood { get; init; }

    /// <summary>Why, in words, one sentence each; what falls short comes first.</summary>
    public required IReadOnlyList<string> Because { get; init; }

    /// <summary>The mix.</summary>
    public required CheckedMix Mix { get; init; }

    /// <summary>The sources, in the order of the plan.</summary>
    public required IReadOnlyList<CheckedSource> Sources { get; init; }

    /// <summary>How clear every bar is; empty where that was not asked.</summary>
    public IReadOnlyList<BarClarity> Clarity { get; init; } = [];

    /// <summary>How loud it will be at the listening place; <c>null</c> where that was not measured.</summary>
    public ExposureForecast? Exposure { get; init; }

    /// <summary>A recording of the mix against the marks; <c>null</c> without one. It decides nothing: it cannot tell one source from another.</summary>
    public RecordingCheck? Recording { get; init; }
}

/// <summary>The measured mix.</summary>
/// <param name="Integrated">Programme loudness; <c>null</c> where nothing passes the gates.</param>
/// <param name="Range">Loudness range; <c>null</c> where it cannot be measured.</param>
/// <param name="TruePeak">In dB relative to full scale; <c>null</c> for digital silence.</param>
/// <param name="TruePeakLimit">What the plan allows.</param>
public sealed record CheckedMix(Lufs? Integrated, Decibels? Range, Decibels? TruePeak, Decibels TruePeakLimit)
{
    /// <summary>The integrated loudness that the plan allows; <c>null</c> for any.</summary>
    public Lufs? LoudnessLimit { get; init; }

    /// <summary>0 LU.</summary>
    public Lufs Reference { get; init; } = new(-23);

    /// <summary>
    /// The smallest lowering of all sources alike that brings the mix under its limits, rounded up to a tenth of a dB;
    /// <c>null</c> where it is under them. A mix lowered by so much is lower by as much in peak and loudness.
    /// </summary>
    public Decibels? Lowering
    {
        get
        {
            var over = Math.Max(TruePeak is { } peak ? (peak - TruePeakLimit).Value : 0, Integrated is { } loudness && LoudnessLimit is { } limit ? (loudness - limit).Value : 0);
            return over > 0 ? Decibels.Of(Math.Ceiling(over * 10 - 1e-6) / 10) : null;
        }
    }
}

/// <summary>One source, against its marks.</summary>
public sealed record CheckedSource
{
    /// <summary>The source.</summary>
    public required Source Source { get; init; }

    /// <summary>Its ride.</summary>
    public required Ride Ride { get; init; }

    /// <summary>The loudness of its stem as it arrives; <c>null</c> where it cannot be measured.</summary>
    public required Lufs? StemIntegrated { get; init; }

    /// <summary>How many beats it plays, and its marks want it heard, for at least half of their length.</summary>
    public required int BeatsActive { get; init; }

    /// <summary>How many of these beats it sits within its level.</summary>
    public required int BeatsWithin { get; init; }

    /// <summary>Whether enough of its beats lie within its level; a source that never plays is not short of anything.</summary>
    public bool IsGood => BeatsWithin >= Verdict.EnoughBeats * BeatsActive;

    /// <summary>Bar by bar in played order.</summary>
    public required IReadOnlyList<CheckedBar> Bars { get; init; }

    /// <summary>Stretches where nothing obeys the plan and the fit had to widen the band, in words, with their ends in seconds by the click.</summary>
    public required IReadOnlyList<WidenedNote> Widened { get; init; }

    /// <summary>Stretches of the ride that the engineer pinned, in seconds by the click; one vertex has no length.</summary>
    public IReadOnlyList<(Seconds From, Seconds To)> Pinned { get; init; } = [];

    /// <summary>Dropouts of the link in its stem, in seconds of the stem.</summary>
    public required IReadOnlyList<(Seconds From, Seconds To)> Drops { get; init; }

    /// <summary>Noise of the link that breaks into its stem, in seconds of the stem.</summary>
    public IReadOnlyList<(Seconds From, Seconds To)> Bursts { get; init; } = [];

    /// <summary>What was heard and what was asked, hop by hop.</summary>
    public required SourceTrace Trace { get; init; }
}

/// <summary>A stretch that the fit had to widen.</summary>
/// <param name="From">By the click.</param>
/// <param name="To">By the click.</param>
/// <param name="Because">A sentence with bars, source, amount and cause.</param>
public sealed record WidenedNote(Seconds From, Seconds To, string Because);

/// <summary>One source in one bar.</summary>
/// <param name="Bar">The bar.</param>
/// <param name="Target">What the marks ask, in LU over the reference; <c>null</c> where the source rests or is off.</param>
/// <param name="Heard">What is heard, in LU over the reference; <c>null</c> where the source rests or is off.</param>
/// <param name="Within">Whether it sits within its level; <c>null</c> where there is nothing to judge.</param>
public sealed record CheckedBar(PlayedBar Bar, Decibels? Target, Decibels? Heard, bool? Within);
