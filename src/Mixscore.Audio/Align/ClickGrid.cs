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

    /// <summary>A click outside the recording says nothing; one that is within and not heard, which stands near the median, speaks against its place.</summary>
    private const float Outside = 1.5f;

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
        var best = new PriorityQueue<ClockLine, double>();
        for (var drift = -mostDrift; drift <= mostDrift + driftStep / 2; drift += driftStep)
            for (var start = -last; start <= length - first; start += step)
            {
                var line = new ClockLine(start, drift);
                best.Enqueue(line, Score(line, coarse, step));
                if (best.Count > Candidates) best.Dequeue();
            }
        ClockLine? found = null;
        var score = double.NegativeInfinity;
        while (best.TryDequeue(out var candidate, out _))
        {
            var (line, its) = Finer(candidate, step, driftStep);
            if (its > score) (found, score) = (line, its);
        }
        return found;
    }

    private (ClockLine Line, double Score) Finer(ClockLine around, double reach, double driftReach)
    {
        var (best, score) = (around, double.NegativeInfinity);
        var steps = (int)Math.Ceiling(2 * reach / binSeconds);
        const int DriftSteps = 12;
        for (var d = -DriftSteps; d <= DriftSteps; d++)
            for (var s = -steps; s <= steps; s++)
            {
                var line = new ClockLine(around.Start + s * binSeconds, around.Drift + d * driftReach / DriftSteps);
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
