namespace Mixscore.Loudness;

/// <summary>
/// A <see cref="LoudnessMeter"/> for many stems that sound together, each channel in a SIMD lane. Source: ITU-R BS.1770-5; EBU Tech
/// 3341 and 3342, 2023. Make it, <see cref="Push"/>
/// blocks of any size, read <see cref="this"/> stem's figures at any time: cutting the sound into other blocks gives the same
/// bits.
/// </summary>
/// <remarks>
/// One thread at a time. Figures agree with <see cref="LoudnessMeter"/> to 1e-9 LU, true peaks to the bit. Push allocates nothing
/// but what <see cref="LoudnessMeter"/> does. The peaks of samples in <see cref="LoudnessFigures"/> are up to date after every
/// push. Faulty samples are heard as 0 and counted.
/// </remarks>
public sealed class StemsMeter
{
    private readonly HopGrid _grid;
    private readonly LoudnessFigures[] _stems;
    private readonly LaneBank[] _banks;
    private readonly int _channels;
    private long _hop;
    private int _framesInHop, _framesLeft;

    /// <summary>A meter that has heard nothing yet.</summary>
    /// <param name="stems">One format a stem, all of the same sample rate; at least one.</param>
    /// <param name="measures">What will be read of each.</param>
    /// <param name="history">How blocks are remembered; <see cref="History.Bounded"/> for runs of many hours.</param>
    /// <exception cref="ArgumentException">There is no stem, or sample rates differ.</exception>
    public StemsMeter(IReadOnlyList<SoundFormat> stems, Measure measures = Measure.All, History history = History.Exact)
        : this(stems, measures, LaneWork.Best, history) { }

    internal StemsMeter(IReadOnlyList<SoundFormat> stems, Measure measures, LaneWork work, History history = History.Exact)
    {
        ArgumentNullException.ThrowIfNull(stems);
        if (stems.Count == 0) throw new ArgumentException("There is no stem to measure.", nameof(stems));
        if (stems.Any(stem => stem.SampleRate != stems[0].SampleRate))
            throw new ArgumentException("Stems that sound together have one sample rate.", nameof(stems));
        _grid = new(stems[0].SampleRate);
        _stems = [.. stems.Select(stem => new LoudnessFigures(stem, measures, history))];
        _channels = stems.Sum(stem => stem.Channels);
        _banks = [.. Enumerable.Range(0, (_channels + LaneFilter.Width - 1) / LaneFilter.Width).Select(bank => new LaneBank(
            stems[0].SampleRate, Math.Min(LaneFilter.Width, _channels - bank * LaneFilter.Width), measures, work))];
        _framesLeft = (int)_grid.Frames(0, 1);
    }

    /// <summary>Stems.</summary>
    public int Count => _stems.Length;

    /// <summary>Frames pushed.</summary>
    public long Frames => _grid.Start(_hop) + _framesInHop;

    /// <summary>What is read of a stem; kept up to date by every push.</summary>
    /// <param name="stem">From 0.</param>
    public LoudnessFigures this[int stem] => _stems[stem];

    /// <summary>Hears more frames of all stems.</summary>
    /// <param name="planar">All frames of the first stem's first channel, then of its second, and so on through the stems:
    /// channels × frames. Empty is allowed.</param>
    /// <exception cref="ArgumentException">The length is no multiple of all stems' channels; nothing was heard.</exception>
    public void Push(ReadOnlySpan<float> planar)
    {
        var (frames, left) = Math.DivRem(planar.Length, _channels);
        if (left != 0)
            throw new ArgumentException($"{planar.Length} samples are no whole number of frames of {_channels} channels.", nameof(planar));
        for (var frame = 0; frame < frames;)
        {
            var count = Math.Min(Math.Min(frames - frame, _framesLeft), LaneBank.MostFrames);
            Hear(planar, frames, frame, count);
            frame += count;
            _framesInHop += count;
            _framesLeft -= count;
            if (_framesLeft == 0) EndHop();
        }
        NoteOpenHop();
    }

    private void Hear(ReadOnlySpan<float> planar, int frames, int frame, int count)
    {
        for (var channel = 0; channel < _channels; channel++)
            _banks[channel / LaneFilter.Width][channel % LaneFilter.Width].Take(planar[(channel * frames + frame)..], 1, count);
        foreach (var bank in _banks) bank.Hear(count);
        CountFaults();
    }

    private void CountFaults()
    {
        var channel = 0;
        foreach (var stem in _stems)
            for (var end = channel + stem.Format.Channels; channel < end; channel++)
                stem.AddInvalid(_banks[channel / LaneFilter.Width][channel % LaneFilter.Width].Faulty);
    }

    private void EndHop()
    {
        var channel = 0;
        foreach (var stem in _stems) stem.AddHop(WeightedSum(stem.Format, ref channel));
        foreach (var bank in _banks) bank.EndHop();
        _hop++;
        _framesInHop = 0;
        _framesLeft = (int)_grid.Frames(_hop, _hop + 1);
    }

    private void NoteOpenHop()
    {
        var channel = 0;
        foreach (var stem in _stems)
        {
            for (var c = channel; c < channel + stem.Format.Channels; c++)
            {
                var bank = _banks[c / LaneFilter.Width];
                stem.AddPeaks(bank.SamplePeak(c % LaneFilter.Width), bank.TruePeak(c % LaneFilter.Width));
            }
            stem.Open(WeightedSum(stem.Format, ref channel), _framesInHop);
        }
    }

    private double WeightedSum(SoundFormat format, ref int channel)
    {
        var sum = 0.0;
        for (var c = 0; c < format.Channels; c++, channel++)
            sum += format.Weight(c) * _banks[channel / LaneFilter.Width].Sum(channel % LaneFilter.Width);
        return sum;
    }
}
