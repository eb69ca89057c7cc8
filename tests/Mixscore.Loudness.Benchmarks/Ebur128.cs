using System.Runtime.InteropServices;

namespace Mixscore.Loudness.Outside;

/// <summary>libebur128 (Debian: libebur128-1), the meter that ours is compared with; its functions as its header names them.</summary>
internal sealed class Ebur128 : IDisposable
{
    // ebur128.h: EBUR128_MODE_M, S, I, LRA, SAMPLE_PEAK and TRUE_PEAK, each with what it needs.
    private const int Momentary = 1 << 0;
    private const int ShortTerm = 1 << 1 | Momentary;
    private const int Global = 1 << 2 | Momentary;
    private const int Range = 1 << 3 | ShortTerm;
    private const int SamplePeak = 1 << 4 | Momentary;
    private const int TruePeakMode = 1 << 5 | SamplePeak;
    private const int All = ShortTerm | Global | Range | TruePeakMode;

    // ebur128.h, enum channel: centre 3, left surround 4, right surround 5.
    private const int LeftSurround = 4, RightSurround = 5;

    private readonly uint _channels;
    private nint _state;

    public Ebur128(int channels, int sampleRate)
    {
        _channels = (uint)channels;
        _state = Init(_channels, (nuint)sampleRate, All);
        if (_state == 0) throw new InvalidOperationException("libebur128 made no state");
        // Its own orders: 4 channels are L R Ls Rs, 5 are L R C Ls Rs, as ours; said outright, since versions differ.
        if (channels >= 4)
        {
            Check(SetChannel(_state, _channels - 2, LeftSurround));
            Check(SetChannel(_state, _channels - 1, RightSurround));
        }
    }

    public double MomentaryLoudness => Read(LoudnessMomentary);

    public double ShortTermLoudness => Read(LoudnessShortTerm);

    public double Integrated => Read(LoudnessGlobal);

    public double LoudnessRange => Read(LoudnessRangeOf);

    /// <summary>Largest of all channels, a ratio to full scale.</summary>
    public double TruePeak => Enumerable.Range(0, (int)_channels).Max(channel =>
    {
        Check(TruePeakOf(_state, (uint)channel, out var peak));
        return peak;
    });

    public void Push(ReadOnlySpan<float> interleaved) =>
        Check(AddFrames(_state, ref MemoryMarshal.GetReference(interleaved), (nuint)interleaved.Length / _channels));

    public void Dispose()
    {
        if (_state != 0) Destroy(ref _state);
    }

    private delegate int Reading(nint state, out double value);

    private double Read(Reading reading)
    {
        Check(reading(_state, out var value));
        return value;
    }

    private static void Check(int code)
    {
        if (code != 0) throw new InvalidOperationException($"libebur128 answered {code}");
    }

    private const string Library = "libebur128.so.1";

    [DllImport(Library, EntryPoint = "ebur128_init")]
    private static extern nint Init(uint channels, nuint sampleRate, int mode);

    [DllImport(Library, EntryPoint = "ebur128_destroy")]
    private static extern void Destroy(ref nint state);

    [DllImport(Library, EntryPoint = "ebur128_set_channel")]
    private static extern int SetChannel(nint state, uint channel, int value);

    [DllImport(Library, EntryPoint = "ebur128_add_frames_float")]
    private static extern int AddFrames(nint state, ref float samples, nuint frames);

    [DllImport(Library, EntryPoint = "ebur128_loudness_momentary")]
    private static extern int LoudnessMomentary(nint state, out double value);

    [DllImport(Library, EntryPoint = "ebur128_loudness_shortterm")]
    private static extern int LoudnessShortTerm(nint state, out double value);

    [DllImport(Library, EntryPoint = "ebur128_loudness_global")]
    private static extern int LoudnessGlobal(nint state, out double value);

    [DllImport(Library, EntryPoint = "ebur128_loudness_range")]
    private static extern int LoudnessRangeOf(nint state, out double value);

    [DllImport(Library, EntryPoint = "ebur128_true_peak")]
    private static extern int TruePeakOf(nint state, uint channel, out double value);
}
