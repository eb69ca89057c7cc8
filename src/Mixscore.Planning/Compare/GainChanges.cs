using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Finds the stretches over which two gains stand apart, in whole beats. A gap of less than a beat ends none, and one shorter than a beat is none.</summary>
internal sealed class GainChanges(Timeline timeline, string source, double tolerance)
{
    /// <summary>Looks a beat is cut into; fine enough for what a hand does. Our own figure.</summary>
    private const int PerBeat = 8;

    private readonly List<Quarters> _beats = [.. timeline.BeatGrid];

    /// <summary>The rides of two versions over the bars that they share.</summary>
    internal static IReadOnlyList<GainChange> OfRides(Ride before, Ride after, SharedBars bars, Timeline timeline, double tolerance)
    {
        var changes = new GainChanges(timeline, after.Source, tolerance);
        var cells = bars.Pairs.SelectMany(pair => Cells(pair.After).Select(cell => new Cell(cell.From, cell.To,
            before.At(cell.Middle - pair.After.Start.ToDouble() + pair.Before.Start.ToDouble())?.Value, after.At(cell.Middle)?.Value)));
        return changes.Of(cells);
    }

    /// <summary>A look: gains in dB over a part of a beat, <c>null</c> for off.</summary>
    internal readonly record struct Cell(Quarters From, Quarters To, double? Was, double? Becomes)
    {
        internal double Length => (To - From).ToDouble();
    }

    /// <summary>The looks into a bar: where each lies, and its middle in quarters.</summary>
    internal static IEnumerable<(Quarters From, Quarters To, double Middle)> Cells(PlayedBar bar)
    {
        for (var beat = 0; beat < bar.Beats.Count; beat++)
        {
            var (from, length) = (bar.Beats[beat], (beat + 1 < bar.Beats.Count ? bar.Beats[beat + 1] : bar.End) - bar.Beats[beat]);
            for (var i = 0; i < PerBeat; i++)
            {
                var (start, end) = (from + length * new Fraction(i, PerBeat), from + length * new Fraction(i + 1, PerBeat));
                yield return (start, end, (start.ToDouble() + end.ToDouble()) / 2);
            }
        }
    }

    /// <summary>The stretches.</summary>
    /// <param name="cells">In order; where two do not touch, a stretch ends.</param>
    internal IReadOnlyList<GainChange> Of(IEnumerable<Cell> cells)
    {
        var (found, run, near) = (new List<GainChange>(), new List<Cell>(), 0);
        foreach (var cell in cells)
        {
            var isApart = IsApart(cell);
            if (run.Count > 0 && (run[^1].To != cell.From || (!isApart && near >= PerBeat - 1))) End();
            if (run.Count == 0 && !isApart) continue;
            near = isApart ? 0 : near + 1;
            run.Add(cell);
        }
        End();
        return found;

        void End()
        {
            run.RemoveRange(run.Count - near, near);
            if (run.Count >= PerBeat) found.Add(Told(run));
            run.Clear();
            near = 0;
        }
    }

    private bool IsApart(Cell cell) => cell is { Was: { } was, Becomes: { } becomes } ? Math.Abs(becomes - was) > tolerance : cell.Was is null != cell.Becomes is null;

    private GainChange Told(List<Cell> run)
    {
        var both = run.Where(cell => cell is { Was: not null, Becomes: not null }).ToArray();
        var by = Mean(both, cell => cell.Becomes - cell.Was);
        var most = both.Length < run.Count ? (double?)null : both.Select(cell => cell.Becomes!.Value - cell.Was!.Value).MaxBy(Math.Abs);
        return new GainChange(source, WholeBeats(run[0].From, run[^1].To), Of(by), Of(most), Of(Mean(run, cell => cell.Was)), Of(Mean(run, cell => cell.Becomes)));
    }

    private ComparedStretch WholeBeats(Quarters from, Quarters to)
    {
        int At(Quarters place) => _beats.BinarySearch(place) is var found && found >= 0 ? found : ~found;
        return ComparedStretch.Of(timeline, _beats[At(from) is var first && first < _beats.Count && _beats[first] == from ? first : first - 1], _beats[Math.Min(At(to), _beats.Count - 1)]);
    }

    private static double? Mean(IEnumerable<Cell> cells, Func<Cell, double?> value)
    {
        var (sum, length) = (0.0, 0.0);
        foreach (var cell in cells)
            if (value(cell) is { } one) (sum, length) = (sum + (one * cell.Length), length + cell.Length);
        return length > 0 ? sum / length : null;
    }

    private static Decibels? Of(double? value) => value is { } db ? Decibels.Of(db) : null;
}
