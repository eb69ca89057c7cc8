namespace Mixscore.Loudness;

/// <summary>
/// A loudness and peak meter. Source: ITU-R BS.1770-5; EBU Tech 3341 and 3342, 2023. Make it, <see cref="Push"/> blocks of any
/// size, read the figures at any time: reading changes nothing, and cutting the sound into other blocks gives the same bits.
/// </summary>
/// <remarks>
/// One thread at a time. A new meter is the reset. <c>null</c> means not measurable: too short as yet, or silence. A figure that
/// was not asked for throws <see cref="InvalidOperationException"/>. Samples are floats with full scale 1 and may exceed it.
/// Push allocates nothing, except that integrated loudness, range and energy track each take 48 kB more, the first two
/// every ten minutes that pass their absolute gate and the track every minute.
/// </remarks>
public sealed partial class LoudnessMeter
{
    private readonly HopGrid _grid;
    private readonly Lane[] _lanes;
    private readonly KFilter?[] _filters;
    private readonly double[] _sums;
    private readonly HopWindow _window;
    private readonly IntegratedGate? _integrated;
    private readonly RangeGate? _range;
    private readonly BlockStore? _track;
    private readonly int _ratio;
    private int _framesInHop, _framesLeft;
    private double _momentary, _shortTerm, _maxMomentary, _maxShortTerm;
    private float _samplePeak, _truePeak, _truePeakOfLastPush;

    /// <summary>A meter that has heard nothing yet.</summary>
    /// <param name="format">Rate, channels and their weights. A channel of weight 0 (LFE) adds no loudness but has peaks.</param>
    /// <param name="measures">What will be read.</param>
    public LoudnessMeter(SoundFormat format, Measure measures = Measure.All)
    {
        Format = format;
        Measures = measures;
        _grid = new(format.SampleRate);
        _window = new(_grid);
        _sums = new double[format.Channels];
        _lanes = [.. _sums.Select(_ => new Lane(_grid.LongestHop))];
        var loudness = (measures & ~(Measure.SamplePeak | Measure.TruePeak)) != Measure.None;
        _filters = [.. _sums.Select((_, c) => loudness && format.Weight(c) > 0 ? new KFilter(format.SampleRate) : null)];
        if (measures.HasFlag(Measure.Integrated)) _integrated = new();
        if (measures.HasFlag(Measure.Range)) _range = new();
        if (measures.HasFlag(Measure.EnergyTrack)) _track = new();
        _ratio = measures.HasFlag(Measure.TruePeak) ? TruePeakFilter.Ratio(format.SampleRate) : 1;
        _framesLeft = (int)_grid.Frames(0, 1);
    }

    /// <summary>What is pushed.</summary>
    public SoundFormat Format { get; }

    /// <summary>What is kept account of.</summary>
    public Measure Measures { get; }

    /// <summary>Frames pushed.</summary>
    public long Frames => _grid.Start(_window.Count) + _framesInHop;

    /// <summary>Length of the sound pushed, seconds.</summary>
    public double Seconds => (double)Frames / Format.SampleRate;

    /// <summary>Samples that were NaN, infinite or beyond 1e12 in magnitude. They were heard as 0.</summary>
    public long InvalidSamples { get; private set; }

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
        _truePeak = Math.Max(_truePeak, _truePeakOfLastPush);
    }

    private void HearChannel(int channel, ReadOnlySpan<float> samples, int stride, int count)
    {
        var lane = _lanes[channel];
        InvalidSamples += lane.Load(samples, stride, count);
        if (_filters[channel] is { } filter) _sums[channel] = filter.AddSquares(lane.Fresh, _sums[channel]);
        _samplePeak = Math.Max(_samplePeak, lane.Peak);
        if (_ratio > 1) _truePeakOfLastPush = Math.Max(_truePeakOfLastPush, TruePeakFilter.Peak(lane.WithHistory, _ratio));
        _truePeakOfLastPush = Math.Max(_truePeakOfLastPush, lane.Peak);
    }

    private double WeightedSum()
    {
        var sum = 0.0;
        for (var channel = 0; channel < _sums.Length; channel++) sum += Format.Weight(channel) * _sums[channel];
        return sum;
    }

    private void EndHop()
    {
        var sum = WeightedSum();
        _track?.Add(sum / _framesInHop);
        _window.Add(sum);
        var onStep = _window.Count % HopGrid.Step == 0;
        if (_window.Count >= HopGrid.Momentary && (Measures.HasFlag(Measure.Momentary) || (onStep && _integrated is not null)))
        {
            _momentary = _window.MeanSquare(HopGrid.Momentary);
            _maxMomentary = Math.Max(_maxMomentary, _momentary);
            if (onStep) _integrated?.Add(_momentary);
        }
        if (_window.Count >= HopGrid.ShortTerm && (Measures.HasFlag(Measure.ShortTerm) || (onStep && _range is not null)))
        {
            _shortTerm = _window.MeanSquare(HopGrid.ShortTerm);
            _maxShortTerm = Math.Max(_maxShortTerm, _shortTerm);
            if (onStep) _range?.Add(_shortTerm);
        }
        Array.Clear(_sums);
        foreach (var filter in _filters) filter?.Settle();
        _framesInHop = 0;
        _framesLeft = (int)_grid.Frames(_window.Count, _window.Count + 1);
    }
}
