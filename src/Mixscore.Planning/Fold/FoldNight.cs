using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>What the hands did in one night, in musical places: what <see cref="Folding"/> takes.</summary>
public sealed record FoldNight
{
    /// <summary>When it was; <c>null</c> where the log does not say.</summary>
    public DateTimeOffset? Date { get; init; }

    /// <summary>The hall; <c>null</c> where none is named.</summary>
    public string? Hall { get; init; }

    /// <summary>Whether it was a rehearsal, which counts for less than a concert.</summary>
    public bool IsRehearsal { get; init; }

    /// <summary>What was played, in quarters from the start of the piece: ascending, apart from one another.</summary>
    public required IReadOnlyList<(double From, double To)> Played { get; init; }

    /// <summary>The sources that the plan still has.</summary>
    public required IReadOnlyList<NightSource> Sources { get; init; }

    /// <summary><c>2026-11-25</c>, with the hall where one is known; <c>a night</c> where nothing is.</summary>
    public override string ToString()
    {
        var date = Date?.ToString("yyyy-MM-dd", System.Globalization.CultureInfo.InvariantCulture);
        return string.Join(", ", new[] { date ?? (Hall is null ? "a night" : null), Hall }.Where(part => part is not null));
    }
}

/// <summary>One source in a night.</summary>
/// <param name="Source">Its name.</param>
/// <param name="Ride">The ride of the plan then in force.</param>
/// <param name="Stretches">Where it was not simply on the plan, ascending, apart from one another; where a place was played several times, as it was last.</param>
public sealed record NightSource(string Source, Ride Ride, IReadOnlyList<HandStretch> Stretches);

/// <summary>A stretch over which a hand or an offset stood still. A hand that moves is several.</summary>
/// <param name="From">Where it begins, in quarters from the start of the piece, as the source was heard: without its link's delay.</param>
/// <param name="To">Where it ends; later.</param>
/// <param name="Kind">What it was.</param>
/// <param name="Gain">The fader's gain, <c>null</c> for off; for <see cref="HandKind.Offset"/> what was added to the plan.</param>
public readonly record struct HandStretch(double From, double To, HandKind Kind, Decibels? Gain);

/// <summary>What stood on a source.</summary>
public enum HandKind
{
    /// <summary>A hand.</summary>
    Hand,

    /// <summary>An offset, with the plan under it.</summary>
    Offset,

    /// <summary>All faders were held: no wish for this one.</summary>
    HeldWithAll,

    /// <summary>Its feed was gone: no wish for the next performance.</summary>
    FeedGone,
}
