namespace Mixscore.Planning;

/// <summary>
/// A stretch of beats over which the fader is open, with what it must obey. Places are counted from its own first beat.
/// An end may be given: off, at the bottom, or pinned. Samples on such an end are left out.
/// </summary>
internal sealed class BandPiece
{
    private readonly int[] _on;      // first sample on a beat
    private readonly int[] _inside;  // first sample after a beat
    private readonly ValueRange _range;

    private BandPiece(double[] beats, double[] steepest, BandSample[] samples, double[] knotCosts, ValueRange range, FixedEnd? start, FixedEnd? end)
    {
        (Beats, Steepest, Samples, KnotCosts, _range, Start, End) = (beats, steepest, samples, knotCosts, range, start, end);
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

    /// <summary>For each beat what a vertex there counts, in dB².</summary>
    public double[] KnotCosts { get; }

    /// <summary>The gain at the first beat, where it is given.</summary>
    public FixedEnd? Start { get; }

    /// <summary>The gain at the last beat, where it is given.</summary>
    public FixedEnd? End { get; }

    public bool StartsOff => Start is { IsOff: true };

    public bool EndsOff => End is { IsOff: true };

    /// <summary>Index of the last beat; the number of stretches between beats.</summary>
    public int Last => Beats.Length - 1;

    /// <summary>The part of a problem from one beat to another, whose own samples begin at an index.</summary>
    public static BandPiece Of(BandProblem problem, int from, int to, FixedEnd? startsAt, FixedEnd? endsAt, out int firstSample)
    {
        var start = problem.Beats[from];
        var end = problem.Beats[to];
        var first = startsAt is not null ? After(problem.Samples, start) : From(problem.Samples, start);
        var last = endsAt is not null ? From(problem.Samples, end) : After(problem.Samples, end);
        var samples = problem.Samples[first..Math.Max(first, last)];
        for (var i = 0; i < samples.Length; i++) samples[i] = samples[i] with { At = samples[i].At - start };
        var beats = problem.Beats[from..(to + 1)];
        for (var i = 0; i < beats.Length; i++) beats[i] -= start;
        firstSample = first;
        return new BandPiece(
            beats, problem.Steepest[from..to], samples, problem.KnotCosts[from..(to + 1)], new ValueRange(problem.Bottom, problem.Top), startsAt, endsAt);
    }

    /// <summary>Index of the first sample at a place or later.</summary>
    private static int From(BandSample[] samples, double place) => FirstWhere(samples, sample => sample.At >= place);

    /// <summary>Index of the first sample later than a place.</summary>
    private static int After(BandSample[] samples, double place) => FirstWhere(samples, sample => sample.At > place);

    private static int FirstWhere(BandSample[] samples, Predicate<BandSample> holds)
    {
        var (low, high) = (0, samples.Length);
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (holds(samples[middle])) high = middle;
            else low = middle + 1;
        }
        return low;
    }

    /// <summary>The same piece told from its end to its start.</summary>
    public BandPiece Reversed()
    {
        var end = Beats[^1];
        var (beats, samples) = (new double[Beats.Length], new BandSample[Samples.Length]);
        for (var i = 0; i < beats.Length; i++) beats[i] = end - Beats[^(i + 1)];
        for (var i = 0; i < samples.Length; i++) samples[i] = Samples[^(i + 1)] with { At = end - Samples[^(i + 1)].At };
        return new BandPiece(beats, [.. Steepest.Reverse()], samples, [.. KnotCosts.Reverse()], _range, End, Start);
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
        if ((beat == 0 ? Start : beat == Last ? End : null) is { } given) return Loose(given.Gain, given.Gain);
        var (low, high) = (_range.Low, _range.High);
        foreach (var sample in Samples.AsSpan(_on[beat].._inside[beat]))
            (low, high) = (Math.Max(low, sample.Low), Math.Min(high, sample.High));
        return Loose(low, high);
    }

    private static ValueRange Loose(double low, double high) => new(low - BandFit.Tolerance, high + BandFit.Tolerance);
}

/// <summary>A gain that is given at one end of a piece, in dB; the bottom where it is off.</summary>
internal readonly record struct FixedEnd(double Gain, bool IsOff)
{
    public Knot ToKnot(int beat) => new(beat, IsOff ? null : Gain);
}
