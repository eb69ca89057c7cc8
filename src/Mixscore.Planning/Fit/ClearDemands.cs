using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// Meets the marks that ask to be clear of everything else. While one is not met in some bar, first the others are lowered,
/// by drawing their bands in from above, a quarter of their width at a time; when three quarters are gone the lead is
/// raised, by drawing its band in from below. Every source stays within its own level all the while. A step that would
/// leave nothing to obey is taken back: then the mark cannot be met, and the check says so.
/// </summary>
internal sealed class ClearDemands
{
    private const double Step = 0.25;
    private const int Steps = 3;
    private const double Hair = 1e-3;

    private readonly Timeline _timeline;
    private readonly IReadOnlyList<SourceToFit> _sources;
    private readonly Dictionary<string, ScoreTrace> _traces;

    private ClearDemands(Timeline timeline, FaderGrids grids, IReadOnlyList<SourceToFit> sources)
    {
        (_timeline, _sources) = (timeline, sources);
        _traces = sources.ToDictionary(source => source.Name, source => new ScoreTrace(source, timeline, grids[source].Beats), StringComparer.Ordinal);
    }

    /// <summary>Fits until all demands are met, or no step helps.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="grids">Where the vertices of each may stand.</param>
    /// <param name="sources">The sources.</param>
    /// <param name="fit">Fits sources with their bands drawn in.</param>
    public static IReadOnlyList<FittedSource> Meet(
        Timeline timeline, FaderGrids grids, IReadOnlyList<SourceToFit> sources, Func<IReadOnlyList<SourceToFit>, IReadOnlyList<FittedSource>> fit)
    {
        var fitted = fit(sources);
        Demand[] demands = [.. sources.SelectMany(source => source.Levels.Segments.Where(segment => segment.Mark?.Clear is not null).Select(segment => new Demand(source.Name, segment, segment.Mark!.Clear!.Value)))];
        if (demands.Length == 0) return fitted;
        var work = new ClearDemands(timeline, grids, sources);
        var (taken, stuck) = (new int[demands.Length], new bool[demands.Length]);
        for (var round = 0; round < 2 * Steps * demands.Length; round++)
        {
            var worst = Array.FindIndex(demands, demand => !stuck[Array.IndexOf(demands, demand)] && work.IsShort(demand, fitted));
            if (worst < 0) break;
            taken[worst]++;
            var next = taken[worst] <= 2 * Steps ? fit(work.DrawnIn(demands, taken)) : null;
            if (next is not null && next.Sum(source => source.Widened.Count) <= fitted.Sum(source => source.Widened.Count)) fitted = next;
            else
            {
                taken[worst]--;
                stuck[worst] = true;
            }
        }
        return fitted;
    }

    private List<SourceToFit> DrawnIn(Demand[] demands, int[] taken) =>
    [
        .. _sources.Select(source => source with
        {
            DrawnIn =
            [
                .. demands.Select((demand, i) =>
                {
                    var (from, to) = (demand.Segment.From.ToDouble(), demand.Segment.To.ToDouble());
                    return demand.Source == source.Name
                        ? new DrawnIn(from, to, 0, Step * Math.Max(0, taken[i] - Steps))
                        : new DrawnIn(from, to, Step * Math.Min(Steps, taken[i]), 0);
                }),
            ],
        }),
    ];

    /// <summary>Whether in some bar the source stands less over the others than it must; power against power, while it plays.</summary>
    private bool IsShort(Demand demand, IReadOnlyList<FittedSource> fitted)
    {
        var rides = fitted.ToDictionary(source => source.Source, source => source.Ride, StringComparer.Ordinal);
        var bars = new Dictionary<int, (double Own, double Others)>();
        foreach (var (at, loudness) in _traces[demand.Source].Active)
        {
            if (at < demand.Segment.From.ToDouble() || at >= demand.Segment.To.ToDouble() || rides[demand.Source].At(at) is not { } gain) continue;
            var rest = 0.0;
            foreach (var other in _sources)
                if (other.Name != demand.Source && _traces[other.Name].At(at) is { } level && rides[other.Name].At(at) is { } by)
                    rest += Decibels.Of(level + by.Value).ToPowerRatio();
            var bar = _timeline.BarAt(at).Index;
            var sums = bars.GetValueOrDefault(bar);
            bars[bar] = (sums.Own + Decibels.Of(loudness + gain.Value).ToPowerRatio(), sums.Others + rest);
        }
        return bars.Values.Any(sums => sums.Others > 0 && 10 * Math.Log10(sums.Own / sums.Others) < demand.By.Value - Hair);
    }

    private sealed record Demand(string Source, LevelSegment Segment, Decibels By);
}
