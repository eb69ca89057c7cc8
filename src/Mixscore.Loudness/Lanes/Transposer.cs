using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Mixscore.Loudness;

/// <summary>Turns eight channels of samples into frames of eight, and looks at every sample as it goes by.</summary>
internal static class Transposer
{
    private const int Width = LaneFilter.Width;

    /// <summary>Writes the samples that each lane took last, frame by frame.</summary>
    /// <param name="lanes">Eight of them, which took as many samples each.</param>
    /// <param name="count">How many.</param>
    /// <param name="frames">At least <paramref name="count"/>, rounded up to a multiple of 4, × 8; what comes after the last
    /// frame is at liberty.</param>
    public static FrameSizes Transpose(ReadOnlySpan<Lane> lanes, int count, Span<float> frames) =>
        Avx2.IsSupported ? TransposeFours(lanes, count, frames) : TransposePlain(lanes, count, frames);

    internal static FrameSizes TransposePlain(ReadOnlySpan<Lane> lanes, int count, Span<float> frames)
    {
        for (var lane = 0; lane < Width; lane++)
        {
            var samples = lanes[lane].Fresh;
            for (var i = 0; i < count; i++) frames[i * Width + lane] = samples[i];
        }
        var sizes = FrameSizes.None;
        for (var i = 0; i < count; i++) sizes = sizes.With(Vector256.Create(frames[(i * Width)..]));
        return sizes;
    }

    // Four samples of lane l and of lane l + 4 share a vector; two rounds of shuffling make four frames of four such. Behind its
    // last sample a lane has zeros, which change no size.
    private static FrameSizes TransposeFours(ReadOnlySpan<Lane> lanes, int count, Span<float> frames)
    {
        const byte LowPairs = 0b01_00_01_00, HighPairs = 0b11_10_11_10;
        ArgumentOutOfRangeException.ThrowIfLessThan(frames.Length, (count + 3) / 4 * 4 * Width, nameof(frames));
        ref readonly float l0 = ref lanes[0].First, l1 = ref lanes[1].First, l2 = ref lanes[2].First, l3 = ref lanes[3].First;
        ref readonly float l4 = ref lanes[4].First, l5 = ref lanes[5].First, l6 = ref lanes[6].First, l7 = ref lanes[7].First;
        ref var frame = ref MemoryMarshal.GetReference(frames);
        var sizes = FrameSizes.None;
        for (nuint i = 0; i < (nuint)count; i += 4)
        {
            var l04 = Both(in l0, in l4, i);
            var l15 = Both(in l1, in l5, i);
            var l26 = Both(in l2, in l6, i);
            var l37 = Both(in l3, in l7, i);
            var first01 = Avx.UnpackLow(l04, l15);
            var first23 = Avx.UnpackLow(l26, l37);
            var last01 = Avx.UnpackHigh(l04, l15);
            var last23 = Avx.UnpackHigh(l26, l37);
            var f0 = Avx.Shuffle(first01, first23, LowPairs);
            var f1 = Avx.Shuffle(first01, first23, HighPairs);
            var f2 = Avx.Shuffle(last01, last23, LowPairs);
            var f3 = Avx.Shuffle(last01, last23, HighPairs);
            f0.StoreUnsafe(ref frame, i * Width);
            f1.StoreUnsafe(ref frame, i * Width + Width);
            f2.StoreUnsafe(ref frame, i * Width + 2 * Width);
            f3.StoreUnsafe(ref frame, i * Width + 3 * Width);
            sizes = sizes.With(f0).With(f1).With(f2).With(f3);
        }
        return sizes;
    }

    private static Vector256<float> Both(ref readonly float lower, ref readonly float upper, nuint at) =>
        Vector256.Create(Vector128.LoadUnsafe(in lower, at), Vector128.LoadUnsafe(in upper, at));
}
