namespace Mixscore.Loudness;

/// <summary>
/// Sample rate, number of channels and how much each counts towards loudness. <c>default</c> is 48 000 Hz, mono.
/// </summary>
/// <remarks>
/// Orders and weights (ITU-R BS.1770-5, Annex 1, Table 3): 1 mono; 2 L R; 3 L R C; 4 L R Ls Rs; 5 L R C Ls Rs; 6 L R C LFE Ls Rs.
/// L, R, C and mono weigh 1.0, Ls and Rs 1.41, LFE 0. A mono signal counts once: it reads 3.01 LU less than on two loudspeakers.
/// </remarks>
public readonly record struct SoundFormat
{
    private const int DefaultSampleRate = 48_000;
    private readonly int _sampleRateLessDefault;
    private readonly ChannelWeights? _weights;

    /// <summary>A format in one of the listed orders.</summary>
    /// <param name="sampleRate">Hz, 32 000 to 192 000.</param>
    /// <param name="channels">1 to 6.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is out of its range.</exception>
    public SoundFormat(int sampleRate, int channels) : this(sampleRate, ChannelWeights.OfLayout(channels)) { }

    private SoundFormat(int sampleRate, ChannelWeights weights)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(sampleRate, 32_000);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(sampleRate, 192_000);
        _sampleRateLessDefault = sampleRate - DefaultSampleRate;
        _weights = weights;
    }

    /// <summary>A format with weights of the caller's own, for other orders (ITU-R BS.1770-5, Annex 3, Table 4).</summary>
    /// <param name="sampleRate">Hz, 32 000 to 192 000.</param>
    /// <param name="weights">One a channel, 1 to 24 of them, each a power ratio from 0 (left out, as LFE) to 4.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number, or how many there are, is out of its range.</exception>
    public static SoundFormat Weighted(int sampleRate, params ReadOnlySpan<double> weights) =>
        new(sampleRate, ChannelWeights.Of(weights));

    /// <summary>Frames a second, Hz.</summary>
    public int SampleRate => DefaultSampleRate + _sampleRateLessDefault;

    /// <summary>Samples a frame.</summary>
    public int Channels => Weights.Count;

    private ChannelWeights Weights => _weights ?? ChannelWeights.Mono;

    /// <summary>How much a channel's mean square counts, a power ratio.</summary>
    /// <param name="channel">From 0.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such channel.</exception>
    public double Weight(int channel) => Weights[channel];

    /// <summary>Same rate and same weights.</summary>
    public bool Equals(SoundFormat other) => SampleRate == other.SampleRate && Weights.Equals(other.Weights);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(SampleRate, Weights);

    /// <summary>Such as <c>48000 Hz, 2 channels</c>.</summary>
    public override string ToString() => $"{SampleRate} Hz, {Channels} {(Channels == 1 ? "channel" : "channels")}";
}
