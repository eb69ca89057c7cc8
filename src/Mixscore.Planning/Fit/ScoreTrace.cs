using System.Runtime.InteropServices;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// A source's loudness laid over the score: each sample at the place whose sound it is, and one more on every beat
/// between two active samples, straight in dB between them.
/// </summary>
internal sealed class ScoreTrace
{
    private readonly double[] _at;
    private readonly double?[] _loudness;

    public ScoreTrace(SourceToFit source, Timeline timeline, double[] beats)
    {
        var most = source.Loudness.Samples.Count + beats.Length;
        var (at, loudness) = (new List<double>(most), new List<double?>(most));
        var (end, beat) = (beats[^1], 0);
        foreach (var sample in source.Loudness.Samples)
        {
            var place = timeline.Tempo.QuartersAt(sample.At - source.Delay);
            while (beat < beats.Length && beats[beat] < place)
            {
                if (at.Count > 0 && at[^1] < beats[beat] && loudness[^1] is { } before && sample.Loudness is { } after)
                    Add(beats[beat], before + (after.Value - before) * ((beats[beat] - at[^1]) / (place - at[^1])));
                beat++;
            }
            Add(place, sample.Loudness?.Value);
        }
        var first = at.FindIndex(place => place >= 0);
        var last = at.FindLastIndex(place => place <= end);
        if (first < 0 || last < first) (first, last) = (0, -1);
        _at = [.. CollectionsMarshal.AsSpan(at)[first..(last + 1)]];
        _loudness = [.. CollectionsMarshal.AsSpan(loudness)[first..(last + 1)]];

        void Add(double place, double? value)
        {
            at.Add(place);
            loudness.Add(value);
        }
    }

    /// <summary>How many samples there are, active or not.</summary>
    public int Count => _at.Length;

    /// <summary>The active samples in order: places in quarters, LU over the reference.</summary>
    public IEnumerable<(double At, double Loudness)> Active
    {
        get
        {
            for (var i = 0; i < _at.Length; i++)
                if (_loudness[i] is { } loudness) yield return (_at[i], loudness);
        }
    }

    /// <summary>The loudness at a place, straight in dB between two active samples; <c>null</c> where the source is not active.</summary>
    public double? At(double quarters)
    {
        var found = Array.BinarySearch(_at, quarters);
        if (found >= 0) return _loudness[found];
        var next = ~found;
        if (next == 0 || next == _at.Length || _loudness[next - 1] is not { } before || _loudness[next] is not { } after) return null;
        return before + (after - before) * ((quarters - _at[next - 1]) / (_at[next] - _at[next - 1]));
    }

    /// <summary>The first active loudness from a place on, up to another; <c>null</c> where there is none.</summary>
    public double? FirstFrom(double quarters, double until)
    {
        for (var i = FirstAtOrAfter(quarters); i < _at.Length && _at[i] <= until; i++)
            if (_loudness[i] is { } loudness) return loudness;
        return null;
    }

    /// <summary>The last active loudness up to a place, not before another; <c>null</c> where there is none.</summary>
    public double? LastUpTo(double quarters, double notBefore)
    {
        for (var i = FirstAtOrAfter(quarters) - 1; i >= 0 && _at[i] >= notBefore; i--)
            if (_loudness[i] is { } loudness) return loudness;
        return null;
    }

    private int FirstAtOrAfter(double quarters)
    {
        var found = Array.BinarySearch(_at, quarters);
        return found >= 0 ? found : ~found;
    }
}
