namespace Mixscore.Loudness;

/// <summary>
/// A segment of one sound, all channels of it, which is measured apart from what lies before. It begins to listen somewhat
/// earlier, so that the filters stand at its first hop as if they had heard all.
/// </summary>
internal sealed class Strand
{
    /// <summary>
    /// 0.2 s. By then what the filters remember of earlier sound has faded by 420 dB: the slowest poles, those of the high-pass,
    /// are double at radius 0.99502 (48 kHz), e^(-47.8) after 9600 frames, and the same in seconds at other rates.
    /// </summary>
    public const int WarmUpHops = 20;

    private readonly ISound _sound;
    private readonly HopGrid _grid;
    private readonly long _firstHop;

    public Strand(ISound sound, int soundIndex, KnownPeak known, long firstHop, long endHop)
    {
        (_sound, SoundIndex, Known, _firstHop) = (sound, soundIndex, known, firstHop);
        _grid = new(sound.Format.SampleRate);
        Start = _grid.Start(firstHop);
        End = Math.Min(sound.Frames, _grid.Start(endHop));
        Sums = new double[endHop - firstHop];
    }

    /// <summary>Which of the sounds.</summary>
    public int SoundIndex { get; }

    /// <summary>What is known of that sound's peak.</summary>
    public KnownPeak Known { get; }

    public SoundFormat Format => _sound.Format;

    /// <summary>Which hop of the sound is its first.</summary>
    public long FirstHop => _firstHop;

    /// <summary>Its first frame and the one after its last.</summary>
    public long Start { get; }

    /// <inheritdoc cref="Start"/>
    public long End { get; }

    /// <summary>The weighted sums of squares of its hops; the last may not be whole.</summary>
    public double[] Sums { get; }

    public long Invalid { get; set; }

    public float SamplePeak { get; private set; }

    public float TruePeak { get; private set; }

    /// <summary>Whether there is sound before it to warm up on.</summary>
    public bool HasPast => _firstHop > 0;

    public ISoundReader Open() => _sound.OpenAt(HasPast ? _grid.Start(_firstHop - WarmUpHops) : 0);

    public void AddPeaks(float samplePeak, float truePeak)
    {
        SamplePeak = Math.Max(SamplePeak, samplePeak);
        TruePeak = Math.Max(TruePeak, truePeak);
    }
}
