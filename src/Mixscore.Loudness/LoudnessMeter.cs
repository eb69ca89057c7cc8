namespace Mixscore.Loudness;

/// <summary>
/// A loudness and peak meter. Source: ITU-R BS.1770-5; EBU Tech 3341 and 3342, 2023. Make it, <see cref="Push"/> blocks of any
/// size, read the figures at any time: reading changes nothing, and cutting the sound into other blocks gives the same bits.
/// </summary>
/// <remarks>
/// One thread at a time. A new meter is the reset. <c>null</c> means not measurable: too short as yet, or silence. A figure that
/// was not asked for throws <see cref="InvalidOperationException"/>. Samples are floats with full scale 1 and may exceed it.
/// Push allocates nothing, except that an energy track takes 48 kB more every minute and, where the history is exact, integrated
/// loudness and range take as much every ten minutes that pass their absolute gate.
/// </remarks>
public sealed partial class LoudnessMeter
{
    private readonly HopGrid _grid;
    private readonly Lane[] _lanes;
    private readonly KFilter?[] _filters;
    private readonly double[] _sums;
    private readonly int _ratio;
    private int _framesInHop, _framesLeft;
    private long _hop;
    private float _truePeakOfLastPush;

    /// <summary>A meter that has heard nothing yet.</summary>
    /// <param name="format">Rate, channels and their weights. A channel of weight 0 (LFE) adds no loudness but has peaks.</param>
    /// <param name="measures">What will be read.</param>
    /// <param name="history">How blocks are remembered; <see cref="History.Bounded"/> for runs of many hours.</param>
    public LoudnessMeter(SoundFormat format, Measure measures = Measure.All, History history = History.Exact)
    {
        Figures = new(format, measures, history);
        _grid = new(format.SampleRate);
        _sums = new double[format.Channels];
        _lanes = [.. _sums.Select(_ => new Lane(_grid.LongestHop))];
        var filtered = LoudnessFigures.NeedsFilters(measures);
        _filters = [.. _sums.Select((_, c) => filtered && format.Weight(c) > 0 ? new KFilter(format.SampleRate) : null)];
        _ratio = measures.Includes(Measure.TruePeak) ? TruePeakFilter.Ratio(format.SampleRate) : 1;
        _framesLeft = (int)_grid.Frames(0, 1);
    }

    /// <summary>All that is read of the sound; kept up to date by every push.</summary>
    public LoudnessFigures Figures { get; }

    /// <summary>What is pushed.</summary>
    public SoundFormat Format => Figures.Format;

    /// <inheritdoc cref="LoudnessFigures.Measures"/>
    public Measure Measures => Figures.Measures;

    /// <summary>Frames pushed.</summary>
    public long Frames => Figures.Frames;

    /// <summary>Length of the sound pushed, seconds.</summary>
    public double Seconds => Figures.Seconds;

    /// <inheritdoc cref="LoudnessFigures.InvalidSamples"/>
    public long InvalidSamples => Figures.InvalidSamples;

    /// <summary>Hears more frames, channels side by side.</summary>
    /// <param name="interleaved">Frames × channels. Empty is allowed.</param>
    /// <exception cref="ArgumentException">The last frame is not whole; nothing was heard.</exception>
    public void Push(ReadOnlySpan<float> interleaved) =>
        Hear(interleaved, Whole(interleaved.Length, nameof(interleaved)), stride: Format.Channels, step: 1);

    /// <summary>Hears more frames, channel after channel.</summary>
    /// <param name="planar">Channels × frames: all frames of the first channel, then all of the second, and so on.</param>
    /// <exception cref="ArgumentException">The length is no multiple of the channels; nothing was heard.</exception>
    public void PushPlanar(ReadOnlySpan<float> planar)
    {
        var frames = Whole(planar.Length, nameof(planar));
        Hear(planar, frames, stride: 1, step: frames);
    }

    private int Whole(int samples, string parameter)
    {
        var (frames, left) = Math.DivRem(samples, Format.Channels);
        return left == 0
            ? frames
            : throw new ArgumentException($"{samples} samples are no whole number of frames of {Format.Channels}.", parameter);
    }

    private void Hear(ReadOnlySpan<float> samples, int frames, int stride, int step)
    {
        _truePeakOfLastPush = 0;
        for (var frame = 0; frame < frames;)
        {
            var count = Math.Min(frames - frame, _framesLeft);
            for (var channel = 0; channel < _lanes.Length; channel++)
                HearChannel(channel, samples[(channel * step + frame * stride)..], stride, count);
            frame += count;
            _framesInHop += count;
            _framesLeft -= count;
            if (_framesLeft == 0) EndHop();
        }
        Figures.Open(WeightedSum(), _framesInHop);
    }

    private void HearChannel(int channel, ReadOnlySpan<float> samples, int stride, int count)
    {
        var lane = _lanes[channel];
        lane.Take(samples, stride, count);
        lane.Inspect();
        Figures.AddInvalid(lane.Faulty);
        if (_filters[channel] is { } filter) _sums[channel] = filter.AddSquares(lane.Fresh, _sums[channel]);
        var between = TruePeakFilter.Peak(lane.WithHistory, _ratio);
        Figures.AddPeaks(lane.Peak, between);
        _truePeakOfLastPush = Math.Max(_truePeakOfLastPush, Math.Max(lane.Peak, between));
    }

    private double WeightedSum()
    {
        var sum = 0.0;
        for (var channel = 0; channel < _sums.Length; channel++) sum += Format.Weight(channel) * _sums[channel];
        return sum;
    }

    private void EndHop()
    {
        Figures.AddHop(WeightedSum());
        Array.Clear(_sums);
        foreach (var filter in _filters) filter?.Settle();
        _hop++;
        _framesInHop = 0;
        _framesLeft = (int)_grid.Frames(_hop, _hop + 1);
    }
}
