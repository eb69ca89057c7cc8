namespace Mixscore.Planning;

/// <summary>
/// What one fader must obey, as bare numbers: places in quarters, gains in dB. Vertices stand on the beats only, the
/// first on the first beat and the last on the last.
/// </summary>
internal sealed class BandProblem
{
    /// <summary>A problem.</summary>
    /// <param name="beats">Where vertices may stand: at least two, ascending.</param>
    /// <param name="steepest">For each stretch between two beats the steepest slope, in dB a quarter, above 0.</param>
    /// <param name="samples">What is asked of the gain, by place, from the first beat to the last; several may share a place.</param>
    /// <param name="bottom">The lowest gain.</param>
    /// <param name="top">The highest gain.</param>
    /// <param name="off">Where the fader is off: ascending, apart from one another. Samples on them are not heeded.</param>
    /// <param name="pins">Where the gain is given: ascending, apart from what is off; two may share a beat and its gain. Samples on them are not heeded.</param>
    /// <param name="knotCosts">For each beat what a vertex there counts beside squared distances, in dB²; <c>null</c> for nothing anywhere.</param>
    /// <exception cref="ArgumentException">The numbers are not so.</exception>
    public BandProblem(
        double[] beats, double[] steepest, BandSample[] samples, double bottom, double top, OffStretch[] off,
        PinnedStretch[]? pins = null, double[]? knotCosts = null)
    {
        if (beats.Length < 2) throw new ArgumentException("a ride needs two beats to stand on", nameof(beats));
        for (var i = 1; i < beats.Length; i++)
            if (!(beats[i] > beats[i - 1])) throw new ArgumentException($"beats must ascend, at {i}", nameof(beats));
        if (steepest.Length != beats.Length - 1 || !steepest.All(slope => slope > 0))
            throw new ArgumentException("each stretch between beats needs a slope above 0", nameof(steepest));
        if (!(bottom < top)) throw new ArgumentException($"the bottom {bottom} must lie under the top {top}", nameof(bottom));
        for (var i = 0; i < samples.Length; i++)
        {
            var sample = samples[i];
            if (!(sample.Low <= sample.High) || !double.IsFinite(sample.Low + sample.High + sample.Middle))
                throw new ArgumentException($"sample {i} has no band: {sample}", nameof(samples));
            if (!(sample.At >= (i > 0 ? samples[i - 1].At : beats[0]) && sample.At <= beats[^1]))
                throw new ArgumentException($"sample {i} is out of order or off the beats: {sample}", nameof(samples));
        }
        for (var i = 0; i < off.Length; i++)
            if (off[i].From < (i > 0 ? off[i - 1].To + 1 : 0) || off[i].To < off[i].From || off[i].To >= beats.Length)
                throw new ArgumentException($"stretch {i} off is out of order: {off[i]}", nameof(off));
        (Beats, Steepest, Samples, Bottom, Top, Off, Pins) = (beats, steepest, samples, bottom, top, off, pins ?? []);
        for (var i = 0; i < Pins.Length; i++)
            if (Pins[i].To < Pins[i].From || Pins[i].To >= beats.Length || (i > 0 && Pins[i].From < Pins[i - 1].To)
                || off.Any(stretch => stretch.From <= Pins[i].To && Pins[i].From <= stretch.To))
                throw new ArgumentException($"pin {i} is out of order: {Pins[i]}", nameof(pins));
        KnotCosts = knotCosts ?? new double[beats.Length];
        if (KnotCosts.Length != beats.Length) throw new ArgumentException("each beat needs a cost", nameof(knotCosts));
    }

    public double[] Beats { get; }

    public double[] Steepest { get; }

    public BandSample[] Samples { get; }

    public double Bottom { get; }

    public double Top { get; }

    public OffStretch[] Off { get; }

    public PinnedStretch[] Pins { get; }

    public double[] KnotCosts { get; }
}

/// <summary>What is asked of the gain at one place.</summary>
/// <param name="At">The place, in quarters.</param>
/// <param name="Low">The lowest gain that will do, in dB; it may lie outside the fader's range.</param>
/// <param name="High">The highest gain that will do, in dB.</param>
/// <param name="Middle">The gain that is best, in dB.</param>
internal readonly record struct BandSample(double At, double Low, double High, double Middle);

/// <summary>Two beats, by index from 0, at which the fader is off, as it is between them. They may be one.</summary>
internal readonly record struct OffStretch(int From, int To);

/// <summary>Two beats, by index from 0, at which the gain is given, in dB, as it is on the straight line between. They may be one, with one gain.</summary>
internal readonly record struct PinnedStretch(int From, int To, double Start, double End);
