using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A night as its log has it, in musical places.</summary>
public sealed record NightRecord
{
    /// <summary>The log's name, without its folder.</summary>
    public required string Name { get; init; }

    /// <summary>What the hands did, and the rides of the plan then in force.</summary>
    public required FoldNight Hands { get; init; }

    /// <summary>The clock that was followed; empty where the log does not say.</summary>
    public string Clock { get; init; } = "";

    /// <summary>The desks that were moved, by title.</summary>
    public IReadOnlyList<string> Desks { get; init; } = [];

    /// <summary>What happened beside the hands, in the order of the night.</summary>
    public required IReadOnlyList<NightEvent> Events { get; init; }

    /// <summary>The whole night in words, by bar; the bar is empty before the piece.</summary>
    public required IReadOnlyList<(string Bar, IReadOnlyList<string> Told)> Story { get; init; }

    /// <summary>How often each source was taken, by name; holding all is not counted.</summary>
    public required IReadOnlyDictionary<string, int> Taken { get; init; }

    /// <summary>How often the clock was gone for so long that the place was held.</summary>
    public int ClockHeld { get; init; }

    /// <summary>What of the log could not be used, in words.</summary>
    public IReadOnlyList<string> Notes { get; init; } = [];

    /// <summary>How often a feed was gone.</summary>
    public int FeedsGone => Events.Count(one => one.Kind == NightEventKind.FeedGone);

    /// <summary>How many ticks came late.</summary>
    public int LateTicks => Events.Count(one => one.Kind == NightEventKind.LateTick);

    /// <summary>The latest of them.</summary>
    public Seconds LatestTick => new(Events.Where(one => one.Kind == NightEventKind.LateTick).Select(one => one.By.Value).DefaultIfEmpty(0).Max());

    /// <summary>How long a source was in a hand, and how long it had an offset, in seconds by the click.</summary>
    public (Seconds InHand, Seconds WithOffset) TimeOf(string source, Timeline timeline)
    {
        var (hand, offset) = (0.0, 0.0);
        foreach (var stretch in Hands.Sources.FirstOrDefault(one => one.Source == source)?.Stretches ?? [])
        {
            var length = (timeline.Tempo.SecondsAt(stretch.To) - timeline.Tempo.SecondsAt(stretch.From)).Value;
            if (stretch.Kind == HandKind.Offset) offset += length;
            else if (stretch.Kind == HandKind.Hand) hand += length;
        }
        return (new Seconds(hand), new Seconds(offset));
    }
}

/// <summary>Something that happened in a night.</summary>
/// <param name="Kind">What.</param>
/// <param name="From">Where, in quarters from the start of the piece, by the click.</param>
/// <param name="To">Where it ended; <paramref name="From"/> for what has no length.</param>
/// <param name="Source">The source; <c>null</c> where it is of none.</param>
/// <param name="Text">In words.</param>
public sealed record NightEvent(NightEventKind Kind, double From, double To, string? Source, string Text)
{
    /// <summary>By how much a tick was late; zero for all else.</summary>
    public Seconds By { get; init; }
}

/// <summary>What happened.</summary>
public enum NightEventKind
{
    /// <summary>A feed was gone.</summary>
    FeedGone,

    /// <summary>The clock that was followed said nothing, and the run went on or held by itself.</summary>
    ClockGone,

    /// <summary>A tick of the run came late.</summary>
    LateTick,

    /// <summary>A note by the engineer.</summary>
    Note,

    /// <summary>Something around the run was wrong: a desk that was away, a disk that refused.</summary>
    Trouble,
}
