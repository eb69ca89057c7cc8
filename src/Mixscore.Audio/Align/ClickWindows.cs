using System.Numerics;
using Mixscore.Planning;

namespace Mixscore.Audio;

/// <summary>The fine search, in short stretches around the places where the rough one expects clicks.</summary>
internal sealed class ClickWindows
{
    private const double ReachSeconds = 0.004;
    private readonly int _rate, _reach;
    private readonly (double Time, int Kind)[] _strokes;
    private readonly Complex[][] _correlation;
    private readonly long[] _from;
    private readonly double[] _weights;

    internal ClickWindows(ReadOnlySpan<float> samples, int rate, ClickFilter[] filters, ClickTimes times, ClockLine around)
    {
        (_rate, _reach) = (rate, (int)(ReachSeconds * rate));
        var length = samples.Length;
        _strokes = [.. times.Strokes.Select(stroke => (Time: stroke.Time.Value, (int)stroke.Kind)).Where(stroke => around.At(stroke.Time) is var at && at >= 0 && at * rate < length)];
        (_correlation, _from) = (new Complex[_strokes.Length][], new long[_strokes.Length]);
        for (var i = 0; i < _strokes.Length; i++)
        {
            _from[i] = (long)Math.Round(around.At(_strokes[i].Time) * rate) - _reach;
            _correlation[i] = new Complex[2 * _reach + 1];
            filters[_strokes[i].Kind].At(samples, _from[i], _correlation[i]);
        }
        _weights = Weights();
    }

    /// <summary>A straight line through the peaks of those clicks that stand out, without those that lie off it.</summary>
    internal ClockLine? Line(float[][] heard, int bin, float standsOut)
    {
        var points = new List<(double Time, double At)>();
        for (var i = 0; i < _strokes.Length; i++)
        {
            var peak = 0;
            for (var k = 1; k < _correlation[i].Length; k++) if (_correlation[i][k].Magnitude > _correlation[i][peak].Magnitude) peak = k;
            var at = _from[i] + peak;
            if (at >= 0 && StandsOut(heard[_strokes[i].Kind], (int)(at / bin), standsOut)) points.Add((_strokes[i].Time, (double)at / _rate));
        }
        for (var round = 0; round < 6 && points.Count >= 4; round++)
        {
            var line = Fitted(points);
            var off = points.Select(point => Math.Abs(point.At - line.At(point.Time))).Order().ToArray();
            var limit = Math.Max(3 * off[off.Length / 2], 1.5 / _rate);
            if (off[^1] <= limit) return line;
            points.RemoveAll(point => Math.Abs(point.At - line.At(point.Time)) > limit);
        }
        return points.Count >= 4 ? Fitted(points) : null;
    }

    /// <summary>How many clicks lie within the recording, and how many of them are heard.</summary>
    internal (int Expected, int Found) Count(ClockLine line, float[][] heard, int bin, float standsOut) =>
        (_strokes.Length, _strokes.Count(stroke => StandsOut(heard[stroke.Kind], (int)(line.At(stroke.Time) * _rate / bin), standsOut)));

    /// <summary>The line near one on which all clicks together are most like ours, to a fraction of a sample.</summary>
    internal ClockLine Together(ClockLine line)
    {
        var span = Math.Max(1, _strokes[^1].Time - _strokes[0].Time);
        // Turned about the middle, so that start and drift do not pull at each other.
        var middle = (_strokes[^1].Time + _strokes[0].Time) / 2;
        foreach (var (reach, steps) in ((double, int)[])[(12.0, 24), (1.0, 10), (0.1, 10), (0.02, 10)])
        {
            var (step, turn) = (reach / _rate / steps, 2 * reach / _rate / span / steps);
            var (best, most) = (line, double.NegativeInfinity);
            for (var s = -steps; s <= steps; s++)
                for (var d = -steps; d <= steps; d++)
                {
                    var drift = line.Drift + d * turn;
                    var tried = new ClockLine(line.At(middle) + s * step - (1 + drift) * middle, drift);
                    var alike = Math.Abs(Alike(tried));   // the recording may be upside down
                    if (alike > most) (best, most) = (tried, alike);
                }
            line = best;
        }
        return line;
    }

    private double Alike(ClockLine line)
    {
        var sum = 0.0;
        for (var i = 0; i < _strokes.Length; i++)
        {
            var at = line.At(_strokes[i].Time) * _rate - _from[i];
            var whole = (int)Math.Floor(at);
            if (whole < 1 || whole + 2 >= _correlation[i].Length) continue;
            var x = at - whole;
            var (a, b, c, d) = (_correlation[i][whole - 1].Real, _correlation[i][whole].Real, _correlation[i][whole + 1].Real, _correlation[i][whole + 2].Real);
            // A cubic through four samples (Catmull-Rom).
            sum += _weights[_strokes[i].Kind] * (b + 0.5 * x * (c - a + x * (2 * a - 5 * b + 4 * c - d + x * (3 * (b - c) + d - a))));
        }
        return sum;
    }

    /// <summary>Kinds are weighed by what their filters hear where there is no click: one over its power.</summary>
    private double[] Weights()
    {
        var weights = new double[Enum.GetValues<ClickKind>().Length];
        for (var kind = 0; kind < weights.Length; kind++)
        {
            var quiet = new List<double>();
            for (var i = 0; i < _strokes.Length; i++) if (_strokes[i].Kind == kind) quiet.Add(_correlation[i][^1].Magnitude);
            quiet.Sort();
            weights[kind] = quiet.Count == 0 ? 0 : 1 / Math.Max(1e-3, quiet[quiet.Count / 2]);
        }
        return weights;
    }

    private static bool StandsOut(float[] heard, int bin, float least)
    {
        for (var i = Math.Max(0, bin - 1); i <= Math.Min(heard.Length - 1, bin + 1); i++) if (heard[i] >= least) return true;
        return false;
    }

    private static ClockLine Fitted(List<(double Time, double At)> points)
    {
        var (time, at) = (points.Average(point => point.Time), points.Average(point => point.At));
        var (square, product) = (points.Sum(point => (point.Time - time) * (point.Time - time)), points.Sum(point => (point.Time - time) * (point.At - at)));
        var slope = square > 0 ? product / square : 1;
        return new ClockLine(at - slope * time, slope - 1);
    }
}
