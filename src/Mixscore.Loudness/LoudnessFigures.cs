namespace Mixscore.Loudness;

/// <summary>
/// What a meter reads of one sound. <c>null</c> means not measurable: too short as yet, or silence. A figure that was not asked
/// for throws <see cref="InvalidOperationException"/>.
/// </summary>
public sealed class LoudnessFigures
{
    private readonly HopGrid _grid;
    private readonly SlidingSum _lastMomentary = new(HopGrid.Momentary), _lastShortTerm = new(HopGrid.ShortTerm);
    private readonly IntegratedGate? _integrated;
    private readonly RangeGate? _range;
    private readonly BlockStore? _track;
    private double _momentary, _shortTerm, _maxMomentary, _maxShortTerm;
    private long _hops;
    private double _openSum;
    private int _openFrames;
    private float _samplePeak, _truePeak;

    internal LoudnessFigures(SoundFormat format, Measure measures, History history = History.Exact)
    {
        Format = format;
        Measures = measures;
        _grid = new(format.SampleRate);
        if (measures.Includes(Measure.Integrated)) _integrated = new(history);
        if (measures.Includes(Measure.Range)) _range = new(history);
        if (measures.Includes(Measure.EnergyTrack)) _track = new();
    }

    /// <summary>What was heard.</summary>
    public SoundFormat Format { get; }

    /// <summary>What is kept account of.</summary>
    public Measure Measures { get; }

    /// <summary>Frames heard.</summary>
    public long Frames => _grid.Start(_hops) + _openFrames;

    /// <summary>Length of the sound heard, seconds.</summary>
    public double Seconds => (double)Frames / Format.SampleRate;

    /// <summary>Samples that were NaN, infinite or beyond 1e12 in magnitude. They were heard as 0.</summary>
    public long InvalidSamples { get; private set; }

    /// <summary>
    /// Loudness of the last whole 0.4 s, ungated, renewed every 10 ms; <c>null</c> before 0.4 s and in silence.
    /// EBU Tech 3341, 2.2.
    /// </summary>
    public Lufs? Momentary => Lufs.FromMeanSquare(Asked(Measure.Momentary, _momentary));

    /// <summary>
    /// Loudness of the last whole 3 s, ungated, renewed every 10 ms; <c>null</c> before 3 s and in silence. EBU Tech 3341, 2.2.
    /// </summary>
    public Lufs? ShortTerm => Lufs.FromMeanSquare(Asked(Measure.ShortTerm, _shortTerm));

    /// <summary>The largest <see cref="Momentary"/> since the start.</summary>
    public Lufs? MaxMomentary => Lufs.FromMeanSquare(Asked(Measure.Momentary, _maxMomentary));

    /// <summary>The largest <see cref="ShortTerm"/> since the start.</summary>
    public Lufs? MaxShortTerm => Lufs.FromMeanSquare(Asked(Measure.ShortTerm, _maxShortTerm));

    /// <summary>
    /// Gated loudness since the start: blocks of 0.4 s every 0.1 s, an unfinished one left out; <c>null</c> before the first
    /// block and while none is above -70 LUFS. Looks through all blocks. ITU-R BS.1770-5, Annex 1, eq. 3 to 7.
    /// </summary>
    public Lufs? Integrated => IntegratedGate.Loudness(Blocks);

    /// <summary>
    /// Loudness range since the start, LU, of 3 s windows every 0.1 s; <c>null</c> before 3 s and while none reaches -70 LUFS;
    /// unstable in the first 60 s (EBU Tech 3341, 2.4). Sorts all windows. EBU Tech 3342, 3.1.
    /// </summary>
    /// <remarks>
    /// No silence is added at the end: windows that end within the sound are all that count, as on a live meter. Whoever measures
    /// a file as EBU Tech 3342 advises pushes 1.5 s of zeros first, and reads integrated loudness before. Meters that take a window
    /// a second, as some do, see a tenth of them: on short sound that stops and goes they can read an LU or two otherwise.
    /// </remarks>
    public Decibels? Range => Asked(Measure.Range, _range).Range();

    /// <summary>Largest sample magnitude of any channel since the start, dBFS.</summary>
    public Decibels? SamplePeak => Decibels.FromGain(Asked(Measure.SamplePeak, _samplePeak));

    /// <summary>
    /// Largest magnitude of any channel since the start, dBTP: of the samples and of the signal over-sampled 4 times, from 96 kHz
    /// twice, at 192 kHz not. ITU-R BS.1770-5, Annex 2.
    /// </summary>
    /// <remarks>
    /// The interpolation runs 6 samples behind. The printed filter is not flat: between the samples it reads up to 0.22 dB too
    /// much (tones near 0.08 and 0.25 of the sample rate) or too little, and less still from 0.45 of it.
    /// </remarks>
    public Decibels? TruePeak => Decibels.FromGain(Asked(Measure.TruePeak, _truePeak));

    internal IntegratedGate Blocks => Asked(Measure.Integrated, _integrated);

    /// <summary>Whether anything asked for needs the filters.</summary>
    internal static bool NeedsFilters(Measure measures) => (measures & ~(Measure.SamplePeak | Measure.TruePeak)) != Measure.None;

    /// <summary>The energy of all that was heard so far; an unfinished hop counts as filled up with silence.</summary>
    public EnergyTrack ToEnergyTrack()
    {
        var track = Asked(Measure.EnergyTrack, _track);
        var hops = new double[track.Count + (_openFrames > 0 ? 1 : 0)];
        track.CopyTo(hops);
        if (_openFrames > 0) hops[^1] = _openSum / _grid.Frames(_hops, _hops + 1);
        return new EnergyTrack(1.0 / HopGrid.HopsPerSecond, hops);
    }

    /// <summary>A hop is whole.</summary>
    /// <param name="sum">Its squares after K-weighting, added up over its frames and, weighted, over the channels.</param>
    internal void AddHop(double sum)
    {
        _track?.Add(sum / _grid.Frames(_hops, _hops + 1));
        _hops++;
        (_openSum, _openFrames) = (0, 0);
        double momentary = _lastMomentary.Add(sum), shortTerm = _lastShortTerm.Add(sum);
        var onStep = _hops % HopGrid.Step == 0;
        if (_hops >= HopGrid.Momentary)
        {
            _momentary = momentary / _grid.Frames(_hops - HopGrid.Momentary, _hops);
            _maxMomentary = Math.Max(_maxMomentary, _momentary);
            if (onStep) _integrated?.Add(_momentary);
        }
        if (_hops >= HopGrid.ShortTerm)
        {
            _shortTerm = shortTerm / _grid.Frames(_hops - HopGrid.ShortTerm, _hops);
            _maxShortTerm = Math.Max(_maxShortTerm, _shortTerm);
            if (onStep) _range?.Add(_shortTerm);
        }
    }

    /// <summary>A hop is begun and not whole.</summary>
    internal void Open(double sum, int frames) => (_openSum, _openFrames) = (sum, frames);

    internal void AddPeaks(float samplePeak, float truePeak)
    {
        _samplePeak = Math.Max(_samplePeak, samplePeak);
        _truePeak = Math.Max(_truePeak, Math.Max(samplePeak, truePeak));
    }

    internal void AddInvalid(long samples) => InvalidSamples += samples;

    private T Asked<T>(Measure measure, T? value) => Measures.Includes(measure)
        ? value!
        : throw new InvalidOperationException($"This meter was made without Measure.{measure}.");
}
