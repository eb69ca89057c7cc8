using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// What several nights want of one source. Where they agree it is wanted; a night that left the plan alone agreed with it.
/// Concerts decide; rehearsals decide where there was no concert, and else have a third of a say, where they agree.
/// </summary>
internal static class NightsTogether
{
    /// <summary>Nights agree whose gains lie so near one another, in dB. Our own figure.</summary>
    private const double Agreement = 2;

    private const double RehearsalSay = 1.0 / 3;

    /// <summary>Differences shorter than so many beats are of the hands' own times and are not shown.</summary>
    private const int Fleeting = 4;

    /// <summary>What is wanted.</summary>
    /// <param name="traces">The source in each night, cleaned.</param>
    /// <param name="source">Its name.</param>
    /// <param name="now">Its ride as it is.</param>
    /// <param name="spreads">Where they differ.</param>
    /// <returns>For each cell the gain, or <c>null</c> where the plan is left alone.</returns>
    internal static double?[] Of(IReadOnlyList<NightTrace> traces, string source, Ride now, List<FoldSpread> spreads)
    {
        var count = traces[0].Grid.Count;
        var (wanted, differ) = (new double?[count], new bool[count]);
        for (var i = 0; i < count; i++)
        {
            if (!traces.Any(trace => trace.State[i] == CellState.Hand)) continue;
            var judges = Judges(traces, i);
            var (low, high) = (judges.Min(trace => trace.Gain[i]), judges.Max(trace => trace.Gain[i]));
            if (high - low > Agreement) differ[i] = true;
            else if (judges.Any(trace => trace.State[i] == CellState.Hand)) wanted[i] = Mean(traces, judges, i, low, high);
        }
        foreach (var (from, to) in CellRuns.Of(count, i => differ[i]))
            if (to - from >= Fleeting * FoldGrid.PerBeat) spreads.Add(Spread(traces, source, now, from, to));
        return wanted;
    }

    private static NightTrace[] Judges(IReadOnlyList<NightTrace> traces, int i)
    {
        var played = traces.Where(trace => trace.State[i] is CellState.Hand or CellState.Planned).ToArray();
        var concerts = played.Where(trace => !trace.Night.IsRehearsal).ToArray();
        return concerts.Length > 0 ? concerts : played;
    }

    private static double Mean(IReadOnlyList<NightTrace> traces, NightTrace[] judges, int i, double low, double high)
    {
        var (sum, say) = (0.0, 0.0);
        foreach (var trace in traces.Where(trace => trace.State[i] is CellState.Hand or CellState.Planned))
        {
            var weight = judges.Contains(trace) ? 1 : trace.Gain[i] >= high - Agreement && trace.Gain[i] <= low + Agreement ? RehearsalSay : 0;
            (sum, say) = (sum + trace.Gain[i] * weight, say + weight);
        }
        return sum / say;
    }

    private static FoldSpread Spread(IReadOnlyList<NightTrace> traces, string source, Ride now, int from, int to)
    {
        var grid = traces[0].Grid;
        return new FoldSpread(source, grid.PositionOf(from / FoldGrid.PerBeat), grid.PositionOf((to + FoldGrid.PerBeat - 1) / FoldGrid.PerBeat),
            [.. traces.Where(trace => trace.State.AsSpan(from, to - from).ContainsAny(CellState.Hand, CellState.Planned)).Select(trace =>
            {
                var cells = Enumerable.Range(from, to - from).Where(i => trace.State[i] is CellState.Hand or CellState.Planned);
                return (trace.Night, Decibels.Of(Math.Round(cells.Average(i => trace.Gain[i] - (now.At(grid.Middle[i])?.Value ?? trace.Bottom)), 1)));
            })]);
    }
}

/// <summary>A stretch over which nights differ: shown, and left to the engineer.</summary>
/// <param name="Source">The source.</param>
/// <param name="From">The beat on which it begins.</param>
/// <param name="To">The beat on which it ends.</param>
/// <param name="Nights">What each night had there over the plan as it is now, on average.</param>
public sealed record FoldSpread(string Source, Position From, Position To, IReadOnlyList<(FoldNight Night, Decibels OverPlan)> Nights);
