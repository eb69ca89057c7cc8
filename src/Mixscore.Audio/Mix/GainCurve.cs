using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// A ride as amplitude gains, frame by frame of a stem: evaluated on a grid of frames through the tempo map, and straight
/// in amplitude between. Where a step of the grid moves by more than half a decibel the grid is made finer, so the error
/// stays under 0.004 dB (derived: between gains a ratio r apart a straight line lies at most (1 + r) / (2 √r) over the
/// even one). The same frame has the same gain however the stem is cut into blocks.
/// </summary>
internal sealed class GainCurve
{
    private const int LongestStep = 64;
    private const double LargestMove = 0.5;
    private readonly Ride _ride;
    private readonly TempoMap _tempo;
    private readonly double _rate;
    private readonly double _delay;
    private readonly double[] _quarters;
    private readonly long[] _frames;    // the first frame at or after each vertex

    /// <param name="ride">The gains.</param>
    /// <param name="tempo">When its vertices come by the click.</param>
    /// <param name="delay">How much later than the click a frame's sound is.</param>
    /// <param name="rate">Frames a second.</param>
    internal GainCurve(Ride ride, TempoMap tempo, Seconds delay, double rate)
    {
        (_ride, _tempo, _delay, _rate) = (ride, tempo, delay.Value, rate);
        _quarters = [.. ride.Vertices.Select(vertex => vertex.At.ToDouble())];
        _frames = [.. ride.Vertices.Select(vertex => (long)Math.Ceiling((tempo.SecondsAt(vertex.At).Value + _delay) * rate - 1e-6))];
    }

    /// <summary>Fills in the gains of as many frames as the target holds.</summary>
    /// <param name="first">The stem's frame that the target begins at.</param>
    /// <param name="gains">The target.</param>
    internal void Fill(long first, Span<float> gains)
    {
        var end = first + gains.Length;
        for (var at = first; at < end;)
        {
            var next = NextVertex(at);
            var until = next < _frames.Length ? Math.Min(end, _frames[next]) : end;
            var stretch = gains.Slice((int)(at - first), (int)(until - at));
            var before = _ride.Vertices[Math.Max(0, next - 1)].Gain;
            var after = _ride.Vertices[Math.Min(next, _frames.Length - 1)].Gain;
            if (before == after) stretch.Fill((float)(before?.ToGain() ?? 0));
            else Move(next - 1, at, stretch);
            at = until;
        }
    }

    /// <summary>The first vertex that comes after a frame; the number of vertices where none does.</summary>
    private int NextVertex(long frame)
    {
        var found = Array.BinarySearch(_frames, frame);
        var next = found >= 0 ? found + 1 : ~found;
        while (next < _frames.Length && _frames[next] <= frame) next++;   // vertices may share a frame
        return next;
    }

    private void Move(int vertex, long first, Span<float> gains)
    {
        var (opens, ends) = (_frames[vertex], _frames[vertex + 1]);
        for (var at = first; at < first + gains.Length;)
        {
            var step = LongestStep;
            var (from, to) = Step(at, step);
            var (start, stop) = (Level(vertex, from), Level(vertex, to));
            while (step > 1 && Math.Abs(stop - start) > LargestMove)
            {
                step /= 2;
                (from, to) = Step(at, step);
                (start, stop) = (Level(vertex, from), Level(vertex, to));
            }
            var gain = Math.Pow(10, start / 20);
            var slope = (Math.Pow(10, stop / 20) - gain) / (to - from);
            var until = Math.Min(to, first + gains.Length);
            for (; at < until; at++) gains[(int)(at - first)] = (float)(gain + slope * (at - from));
        }

        (long From, long To) Step(long at, int length)
        {
            var from = at - at % length - (at < 0 && at % length != 0 ? length : 0);
            return (Math.Max(from, opens), Math.Min(from + length, ends));
        }
    }

    /// <summary>Decibels at a frame of the segment after a vertex: straight over quarters, carried on past its ends by less than a frame.</summary>
    private double Level(int vertex, long frame)
    {
        var from = (_ride.Vertices[vertex].Gain ?? _ride.Bottom).Value;
        var to = (_ride.Vertices[vertex + 1].Gain ?? _ride.Bottom).Value;
        var quarters = _tempo.QuartersAt(new Seconds(frame / _rate - _delay));
        return from + (to - from) * (quarters - _quarters[vertex]) / (_quarters[vertex + 1] - _quarters[vertex]);
    }
}
