namespace Mixscore.Planning;

/// <summary>
/// A stretch of beats over which the fader is open, with what it must obey. Places are counted from its own first beat.
/// An end that is off stands at the bottom, and samples on it are left out.
/// </summary>
internal sealed class BandPiece
{
    private readonly int[] _on;      // first sample on a beat
    private readonly int[] _inside;  // first sample after a beat
    private readonly ValueRange _range;

    private BandPiece(double[] beats, double[] steepest, BandSample[] samples, ValueRange range, bool startsOff, bool endsOff)
    {
        (Beats, Steepest, Samples, _range, StartsOff, EndsOff) = (beats, steepest, samples, range, startsOff, endsOff);
        _on = new int[beats.Length + 1];
        _inside = new int[beats.Length];
        var s = 0;
        for (var i = 0; i < beats.Length; i++)
        {
            while (s < samples.Length && samples[s].At < beats[i]) s++;
            _on[i] = s;
            while (s < samples.Length && samples[s].At <= beats[i]) s++;
            _inside[i] = s;
        }
        _on[beats.Length] = samples.Length;
    }

    public double[] Beats { get; }

    public double[] Steepest { get; }

    /// <summary>The samples by place. Widening changes their bands in place.</summary>
    public BandSample[] Samples { get; }

    public bool StartsOff { get; }

    public bool EndsOff { get; }

    /// <summary>Index of the last beat; the number of stretches between beats.</summary>
    public int Last => Beats.Length - 1;

    /// <summary>The part of a problem from one beat to another, whose own samples begin at an index.</summary>
    public static BandPiece Of(BandProblem problem, int from, int to, bool startsOff, bool endsOff, out int firstSample)
    {
        var start = problem.Beats[from];
        var end = problem.Beats[to];
        var first = 0;
        while (first < problem.Samples.Length && (startsOff ? problem.Samples[first].At <= start : problem.Samples[first].At < start)) first++;
        var last = first;
        while (last < problem.Samples.Length && (endsOff ? problem.Samples[last].At < end : problem.Samples[last].At <= end)) last++;
        firstSample = first;
        return new BandPiece(
            [.. problem.Beats[from..(to + 1)].Select(beat => beat - start)], problem.Steepest[from..to],
            [.. problem.Samples[first..last].Select(sample => sample with { At = sample.At - start })],
            new ValueRange(problem.Bottom, problem.Top), startsOff, endsOff);
    }

    /// <summary>The same piece told from its end to its start.</summary>
    public BandPiece Reversed()
    {
        var end = Beats[^1];
        return new BandPiece(
            [.. Beats.Reverse().Select(beat => end - beat)], [.. Steepest.Reverse()],
            [.. Samples.Reverse().Select(sample => sample with { At = end - sample.At })], _range, EndsOff, StartsOff);
    }

    /// <summary>The samples strictly between a beat and the next.</summary>
    public Span<BandSample> Inside(int beat) => Samples.AsSpan(_inside[beat].._on[beat + 1]);

    /// <summary>The samples from one beat to another, both included.</summary>
    public Span<BandSample> Between(int from, int to) => Samples.AsSpan(_on[from].._inside[to]);

    /// <summary>Index of the first sample on a beat or after it.</summary>
    public int FirstSample(int beat) => _on[beat];

    /// <summary>Index after the last sample on a beat or before it.</summary>
    public int AfterSample(int beat) => _inside[beat];

    /// <summary>The samples counted from a beat up to the next; with the last stretch also those on the last beat.</summary>
    public ReadOnlySpan<BandSample> Counted(int beat) => Samples.AsSpan(_on[beat]..(beat + 1 == Last ? Samples.Length : _on[beat + 1]));

    /// <summary>What the fader's range and the samples on a beat leave there, with the tolerance.</summary>
    public ValueRange Own(int beat)
    {
        if ((beat == 0 && StartsOff) || (beat == Last && EndsOff)) return Loose(_range.Low, _range.Low);
        var (low, high) = (_range.Low, _range.High);
        foreach (var sample in Samples.AsSpan(_on[beat].._inside[beat]))
            (low, high) = (Math.Max(low, sample.Low), Math.Min(high, sample.High));
        return Loose(low, high);
    }

    private static ValueRange Loose(double low, double high) => new(low - BandFit.Tolerance, high + BandFit.Tolerance);
}
