using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// When the click sounds, over the count-in and the piece: once on every beat, with an accent on each bar's first, and
/// between beats where the plan asks for it. A held beat (a fermata) sounds once, at its beginning. Immutable.
/// </summary>
public sealed class ClickTimes
{
    private ClickTimes(CountIn countIn, Seconds duration, IReadOnlyList<ClickStroke> strokes) =>
        (CountIn, Duration, Strokes) = (countIn, duration, strokes);

    /// <summary>The bars that are counted, and the piece after them.</summary>
    public CountIn CountIn { get; }

    /// <summary>How long the count-in lasts.</summary>
    public Seconds Lead => CountIn.Lead;

    /// <summary>How long the piece lasts, without the count-in.</summary>
    public Seconds Duration { get; }

    /// <summary>The clicks in order.</summary>
    public IReadOnlyList<ClickStroke> Strokes { get; }

    /// <summary>The click of a plan.</summary>
    public static ClickTimes Of(PlanOnScore plan) => Of(plan.Timeline, plan.Plan.Click, Held(plan));

    /// <summary>The click of a piece.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="settings">How it is counted in and divided.</param>
    /// <param name="held">Places in beats that are held: they are not divided, and the count-in does not go by their tempo.</param>
    public static ClickTimes Of(Timeline timeline, ClickSettings settings, IReadOnlyList<Quarters>? held = null)
    {
        var holds = (held ?? []).Select(place => BeatAt(timeline, place)).ToHashSet();
        var countIn = CountIn.Before(timeline, settings.CountIn, settings.CountInTempo ?? OpeningTempo(timeline, holds));
        var led = countIn.Led;
        var lead = countIn.Lead;
        var strokes = new List<ClickStroke>(led.BeatGrid.Count);
        var heads = new Dictionary<Meter, bool[]>();
        var into = Quarters.Zero;   // how far into its meter the bar begins
        for (var i = 0; i < led.Bars.Count; i++)
        {
            var bar = led.Bars[i];
            into = i == countIn.Bars && countIn.Bars == 0 ? PickupInto(bar) : Into(bar, i > 0 ? led.Bars[i - 1] : null, into);
            if (!heads.TryGetValue(bar.Meter, out var group)) heads[bar.Meter] = group = BeatGroups.Heads(bar.Meter);
            var first = IndexIn(bar.Meter, into);
            for (var b = 0; b < bar.Beats.Count; b++)
            {
                var at = bar.Beats[b];
                var inMeter = first + b;
                var isHead = inMeter >= group.Length || group[inMeter];
                Add(at, inMeter == 0 ? ClickKind.Accent : isHead ? ClickKind.Beat : ClickKind.Subdivision);
                var isDivided = settings.Subdivide > 1 && Array.TrueForAll(group, head => head) && !holds.Contains(at - countIn.Length);
                if (!isDivided) continue;
                var end = b + 1 < bar.Beats.Count ? bar.Beats[b + 1] : bar.End;
                for (var part = 1; part < settings.Subdivide; part++) Add(at + (end - at) * new Fraction(part, settings.Subdivide), ClickKind.Subdivision);

                void Add(Quarters place, ClickKind kind) => strokes.Add(new ClickStroke(led.Tempo.SecondsAt(place) - lead, kind, bar.Index - countIn.Bars, b + 1, place));
            }
        }
        return new ClickTimes(countIn, timeline.Duration, strokes);
    }

    /// <summary>A bar that makes a whole one with the short bar before it goes on counting where that one ended.</summary>
    private static Quarters Into(PlayedBar bar, PlayedBar? before, Quarters beforeInto)
    {
        if (before is null || bar.Meter != before.Meter || bar.Length >= bar.Meter.Length) return Quarters.Zero;
        var reached = beforeInto + before.Length;
        return reached + bar.Length == bar.Meter.Length ? reached : Quarters.Zero;
    }

    private static Quarters PickupInto(PlayedBar bar) => bar.Length < bar.Meter.Length ? bar.Meter.Length - bar.Length : Quarters.Zero;

    private static int IndexIn(Meter meter, Quarters into)
    {
        var at = Quarters.Zero;
        var index = 0;
        while (at < into && index < meter.Beats.Count) at += meter.Beats[index++];
        return index;
    }

    private static double OpeningTempo(Timeline timeline, HashSet<Quarters> holds)
    {
        var grid = timeline.BeatGrid;
        for (var i = 0; i + 1 < grid.Count; i++)
            if (!holds.Contains(grid[i])) return timeline.Tempo.TempoAt(grid[i].ToDouble());
        return timeline.Tempo.TempoAt(0);
    }

    private static List<Quarters> Held(PlanOnScore plan)
    {
        var held = new List<Quarters>();
        foreach (var entry in plan.Plan.Tempo)
            if (entry.Hold is not null && plan.Timeline.TryResolve(entry.From, out var place, out _)) held.Add(place);
        return held;
    }

    private static Quarters BeatAt(Timeline timeline, Quarters place) => timeline.BarAt(place).Beats.Last(beat => beat <= place);
}
