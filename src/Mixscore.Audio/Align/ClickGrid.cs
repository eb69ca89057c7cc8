namespace Mixscore.Audio;

/// <summary>The rough search: every start and drift, judged by how much of the click would be heard there.</summary>
/// <param name="heard">For each kind of click what its filter hears in each bin, over its median.</param>
/// <param name="binSeconds">How long a bin is.</param>
/// <param name="strokes">When it clicks, and which kind.</param>
/// <param name="most">What a click counts at most.</param>
internal sealed class ClickGrid(float[][] heard, double binSeconds, (double Time, int Kind)[] strokes, float most)
{
    /// <summary>Bins that one step of the coarsest search spans.</summary>
    private const int Coarse = 10;

    private const int Candidates = 12;

    private const double NeighbourSeconds = 0.06;

    /// <summary>A click outside the recording says nothing; one that is within and not heard, which stands near the median, speaks against its place.</summary>
    private const float Outside = 2f;

    /// <summary>The best start and drift; <c>null</c> without clicks or sound.</summary>
    internal ClockLine? Best(double mostDrift)
    {
        if (strokes.Length == 0 || heard[0].Length == 0) return null;
        var (first, last) = (strokes[0].Time, strokes[^1].Time);
        var length = heard[0].Length * binSeconds;
        // A coarse bin also hears its neighbours, so a drift may be wrong by so much that the ends are a bin off.
        var coarse = heard.Select(Widened).ToArray();
        var step = Coarse * binSeconds;
        var driftStep = Math.Max(20e-6, 2 * step / Math.Max(1, last - first));
        var starts = (int)Math.Ceiling((length - first + last) / step) + 1;
        var rough = new (ClockLine Line, double Score)[starts];
        Parallel.For(0, starts, i =>
        {
            rough[i].Score = double.NegativeInfinity;
            for (var drift = -mostDrift; drift <= mostDrift + driftStep / 2; drift += driftStep)
            {
                var line = new ClockLine(-last + i * step, drift);
                var its = Score(line, coarse, step);
                if (its > rough[i].Score) rough[i] = (line, its);
            }
        });
        return Apart(rough).Select(candidate => Finer(Finer(candidate, 2 * step, binSeconds, driftStep).Line, binSeconds, binSeconds / 4, driftStep / 6)).MaxBy(found => found.Score).Line;
    }

    /// <summary>The best candidates, no two of them neighbours: a click that is nearly itself a beat or a bar away must not be lost among those around the first.</summary>
    private static List<ClockLine> Apart((ClockLine Line, double Score)[] rough)
    {
        var chosen = new List<ClockLine>();
        foreach (var (line, _) in rough.OrderByDescending(one => one.Score).ThenBy(one => one.Line.Start))
        {
            if (chosen.Exists(other => Math.Abs(other.Start - line.Start) < NeighbourSeconds)) continue;
            chosen.Add(line);
            if (chosen.Count == Candidates) break;
        }
        return chosen;
    }

    private (ClockLine Line, double Score) Finer(ClockLine around, double reach, double step, double driftReach)
    {
        var (best, score) = (around, double.NegativeInfinity);
        var steps = (int)Math.Ceiling(reach / step);
        const int DriftSteps = 12;
        for (var d = -DriftSteps; d <= DriftSteps; d++)
            for (var s = -steps; s <= steps; s++)
            {
                var line = new ClockLine(around.Start + s * step, around.Drift + d * driftReach / DriftSteps);
                var its = Score(line, heard, binSeconds);
                if (its > score) (best, score) = (line, its);
            }
        return (best, score);
    }

    private double Score(ClockLine line, float[][] bins, double seconds)
    {
        var sum = 0f;
        foreach (var (time, kind) in strokes)
        {
            var at = (int)Math.Floor(line.At(time) / seconds);
            sum += at >= 0 && at < bins[kind].Length ? Math.Min(bins[kind][at], most) : Outside;
        }
        return sum;
    }

    /// <summary>The loudest of so many bins and of as many on either side.</summary>
    private static float[] Widened(float[] fine)
    {
        var peaks = new float[(fine.Length + Coarse - 1) / Coarse];
        for (var i = 0; i < fine.Length; i++) peaks[i / Coarse] = Math.Max(peaks[i / Coarse], fine[i]);
        return [.. peaks.Select((peak, i) => Math.Max(peak, Math.Max(i > 0 ? peaks[i - 1] : 0, i + 1 < peaks.Length ? peaks[i + 1] : 0)))];
    }
}
