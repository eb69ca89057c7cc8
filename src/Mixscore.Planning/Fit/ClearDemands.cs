using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// Meets the marks that ask to be clear of everything else. While one is not met in some bar, first the others are lowered,
/// by drawing their bands in from above, a quarter of their width at a time; when three quarters are gone the lead is
/// raised, by drawing its band in from below. The step that met it is then halved again and again, down to a 64th of the
/// width. Every source stays within its own level all the while. A step that would leave nothing to obey is taken back:
/// then the mark cannot be met, and the check says so.
/// </summary>
/// <remarks>
/// Proven: every source obeys its own band, drawn in or not, with the fewest vertices for that; a demand that the work says
/// is met is met in every bar. Not proven: that the lowering is the smallest. All others are lowered by the same part of
/// their widths, where lowering one of them more might do; demands are met one after another; and it is taken that more
/// of a part is never worse, which fails where another ride with fewer vertices strays to the other side of its band.
/// </remarks>
internal sealed class ClearDemands
{
    private const double Step = 0.25;
    private const int Steps = 3;
    private const double Finest = Step / 16;
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
        var (taken, stuck) = (new double[demands.Length], new bool[demands.Length]);
        for (var round = 0; round < 2 * Steps * demands.Length; round++)
        {
            var worst = Array.FindIndex(demands, demand => !stuck[Array.IndexOf(demands, demand)] && work.IsShort(demand, fitted));
            if (worst < 0) break;
            if (taken[worst] + Step <= 2 * Steps * Step && Try(worst, taken[worst] + Step) is { } next)
            {
                fitted = next;
                for (var by = Step / 2; by >= Finest && !work.IsShort(demands[worst], fitted); by /= 2)
                    if (Try(worst, taken[worst] - by, mustMeet: true) is { } less) fitted = less;
            }
            else stuck[worst] = true;
        }
        return fitted;

        // Fits with so much taken for a demand, and leaves it at that if every source can still be kept.
        IReadOnlyList<FittedSource>? Try(int demand, double part, bool mustMeet = false)
        {
            var was = taken[demand];
            taken[demand] = part;
            var next = fit(work.DrawnIn(demands, taken));
            if (next.Sum(source => source.Widened.Count) <= fitted.Sum(source => source.Widened.Count) && !(mustMeet && work.IsShort(demands[demand], next))) return next;
            taken[demand] = was;
            return null;
        }
    }

    private List<SourceToFit> DrawnIn(Demand[] demands, double[] taken) =>
    [
        .. _sources.Select(source => source with
        {
            DrawnIn =
            [
                .. demands.Select((demand, i) =>
                {
                    var (from, to) = (demand.Segment.From.ToDouble(), demand.Segment.To.ToDouble());
                    return demand.Source == source.Name
                        ? new DrawnIn(from, to, 0, Math.Max(0, taken[i] - Steps * Step))
                        : new DrawnIn(from, to, Math.Min(Steps * Step, taken[i]), 0);
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
