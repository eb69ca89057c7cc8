using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Two nights of one piece, and how they differ.</summary>
public sealed record NightComparison
{
    /// <summary>The plan that both are laid on.</summary>
    public required PlanOnScore OnScore { get; init; }

    /// <summary>The one night.</summary>
    public required NightRecord Before { get; init; }

    /// <summary>The other.</summary>
    public required NightRecord After { get; init; }

    /// <summary>Where a hand or an offset had a fader elsewhere than the other night had it, over what both played; by source and then in the order of the piece.</summary>
    public required IReadOnlyList<NightDifference> Hands { get; init; }

    /// <summary>Where the plans then in force had a fader elsewhere.</summary>
    public required IReadOnlyList<GainChange> Plans { get; init; }

    /// <summary>What only one of the two played: <c>true</c> for the first.</summary>
    public required IReadOnlyList<(bool OfBefore, ComparedStretch Stretch)> PlayedAlone { get; init; }

    /// <summary>Compares.</summary>
    /// <param name="onScore">The plan, for where bars lie.</param>
    /// <param name="before">The one night.</param>
    /// <param name="after">The other.</param>
    /// <param name="tolerance">How far faders may stand apart and still be the same; above 0.</param>
    public static NightComparison Of(PlanOnScore onScore, NightRecord before, NightRecord after, Decibels tolerance)
    {
        var timeline = onScore.Timeline;
        var looks = timeline.Bars.SelectMany(GainChanges.Cells).ToArray();
        var (first, second) = (Played(before, looks), Played(after, looks));
        var (hands, plans) = (new List<NightDifference>(), new List<GainChange>());
        foreach (var name in onScore.Plan.Sources.Select(source => source.Name))
        {
            if (Gains(onScore, before, name) is not { } was || Gains(onScore, after, name) is not { } now) continue;
            IReadOnlyList<GainChange> Apart(Func<double, (double?, double?)> gains) => new GainChanges(timeline, name, tolerance.Value).Of(Enumerable.Range(0, looks.Length)
                .Where(i => first[i] && second[i]).Select(i => (Look: looks[i], Gains: gains(looks[i].Middle))).Select(one => new GainChanges.Cell(one.Look.From, one.Look.To, one.Gains.Item1, one.Gains.Item2)));
            // Where no hand was, plans that differ are told as plans.
            hands.AddRange(Apart(at => was.StretchAt(at) is null && now.StretchAt(at) is null ? (0, 0) : (was.At(at), now.At(at))).Select(change => new NightDifference(change, Held(was, change.Stretch), Held(now, change.Stretch))));
            plans.AddRange(Apart(at => (was.PlannedAt(at), now.PlannedAt(at))));
        }
        return new NightComparison { OnScore = onScore, Before = before, After = after, Hands = hands, Plans = plans, PlayedAlone = [.. Alone(timeline, looks, first, second, true), .. Alone(timeline, looks, second, first, false)] };
    }

    /// <summary>Where a source's fader was wanted in a night; <c>null</c> where the night does not know it.</summary>
    public static NightGains? Gains(PlanOnScore onScore, NightRecord night, string source) =>
        night.Hands.Sources.FirstOrDefault(one => one.Source == source) is { } found ? new NightGains(found, onScore.Plan.Limits) : null;

    private static bool[] Played(NightRecord night, (Quarters From, Quarters To, double Middle)[] looks)
    {
        var (played, next) = (new bool[looks.Length], 0);
        for (var i = 0; i < looks.Length; i++)
        {
            while (next < night.Hands.Played.Count && night.Hands.Played[next].To <= looks[i].Middle) next++;
            played[i] = next < night.Hands.Played.Count && night.Hands.Played[next].From <= looks[i].Middle;
        }
        return played;
    }

    private static IEnumerable<(bool, ComparedStretch)> Alone(Timeline timeline, (Quarters From, Quarters To, double Middle)[] looks, bool[] played, bool[] other, bool isBefore) =>
        CellRuns.Of(looks.Length, i => played[i] && !other[i]).Select(run => ComparedStretch.Of(timeline, looks[run.From].From, looks[run.To - 1].To))
            .Where(stretch => (timeline.Tempo.SecondsAt(stretch.End) - timeline.Tempo.SecondsAt(stretch.Start)).Value > 1).Select(stretch => (isBefore, stretch));

    // What stood there longest.
    private static HandKind? Held(NightGains gains, ComparedStretch stretch)
    {
        const int Looks = 64;
        var (from, to) = (stretch.Start.ToDouble(), stretch.End.ToDouble());
        return Enumerable.Range(0, Looks).Select(i => gains.StretchAt(from + ((to - from) * (i + 0.5) / Looks))?.Kind).GroupBy(kind => kind).MaxBy(group => group.Count())!.Key;
    }
}

/// <summary>A stretch over which faders stood apart in two nights.</summary>
/// <param name="Gains">Where, and by how much.</param>
/// <param name="Before">What stood on the source in the one night; <c>null</c> for the plan alone.</param>
/// <param name="After">What stood on it in the other.</param>
public sealed record NightDifference(GainChange Gains, HandKind? Before, HandKind? After);
