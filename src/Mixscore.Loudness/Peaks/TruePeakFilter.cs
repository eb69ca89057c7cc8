using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace Mixscore.Loudness;

/// <summary>
/// The interpolating filter of ITU-R BS.1770-5, Annex 2: order 48, four phases of twelve taps. It answers the largest magnitude
/// between the samples; no phase passes the samples themselves, so the caller also compares the sample peak.
/// </summary>
/// <remarks>
/// The phases come in mirrored pairs (3 is 0 reversed, 2 is 1 reversed). With the sums and differences of mirrored samples,
/// s = y + y' and d = y - y', and the larger of |y| and |y'| is (|s| + |d|) / 2: half the multiplications of four plain filters.
/// </remarks>
internal static class TruePeakFilter
{
    /// <summary>Taps of one phase.</summary>
    public const int Taps = 12;

    /// <summary>Samples that must stand before the first one to be answered for.</summary>
    public const int History = Taps - 1;

    /// <summary>Phases 0 and 1 as printed in BS.1770-5, Annex 2; phases 3 and 2 are these reversed.</summary>
    internal static readonly float[][] Phases =
    [
        [
            0.0017089843750f, 0.0109863281250f, -0.0196533203125f, 0.0332031250000f, -0.0594482421875f, 0.1373291015625f,
            0.9721679687500f, -0.1022949218750f, 0.0476074218750f, -0.0266113281250f, 0.0148925781250f, -0.0083007812500f,
        ],
        [
            -0.0291748046875f, 0.0292968750000f, -0.0517578125000f, 0.0891113281250f, -0.1665039062500f, 0.4650878906250f,
            0.7797851562500f, -0.2003173828125f, 0.1015625000000f, -0.0582275390625f, 0.0330810546875f, -0.0189208984375f,
        ],
    ];

    // Half of tap k plus, or minus, half of its mirror; exact, as every tap is a multiple of 1/8192. For each k: the sum and the
    // difference of phase 0, then those of phase 1.
    private static readonly float[] Folded = [.. Enumerable.Range(0, Taps / 2).SelectMany(k => Phases.SelectMany(taps =>
        new[] { (taps[k] + taps[History - k]) / 2, (taps[k] - taps[History - k]) / 2 }))];

    private static readonly Vector<float>[] Spread = [.. Folded.Select(tap => new Vector<float>(tap))];

    /// <summary>
    /// How often the signal is over-sampled: 4 below 96 kHz, 2 from there (BS.1770-5, Annex 2: 96 kHz needs half the ratio of
    /// 48 kHz), 1 at 192 kHz, where the samples already lie as close as four times 48 kHz.
    /// </summary>
    public static int Ratio(int sampleRate) => sampleRate < 96_000 ? 4 : sampleRate < 192_000 ? 2 : 1;

    /// <summary>Largest magnitude between the samples.</summary>
    /// <param name="samples"><see cref="History"/> older samples, then those to be answered for; magnitudes finite.</param>
    /// <param name="ratio">4: all phases. 2: phases 1 and 2, which with the samples themselves lie at most 3/8 of a sample
    /// apart. 1: nothing is computed, 0.</param>
    public static float Peak(ReadOnlySpan<float> samples, int ratio) => ratio switch
    {
        4 => AllPhasesPeak(samples),
        2 => MiddlePhasesPeak(samples),
        _ => 0,
    };

    // Two vectors of samples at a time, so that each tap is fetched once for both; the last two end with the samples, and may go
    // over some of them again.
    private static float AllPhasesPeak(ReadOnlySpan<float> samples)
    {
        var last = samples.Length - History - 2 * Vector<float>.Count;
        if (last < 0) return Math.Max(PlainPairPeak(samples, 0), PlainPairPeak(samples, 1));
        var peaks = Vector<float>.Zero;
        ref readonly var tap = ref MemoryMarshal.GetArrayDataReference(Spread);
        ref readonly var first = ref MemoryMarshal.GetReference(samples);
        for (var i = 0; ; i = Math.Min(i + 2 * Vector<float>.Count, last))
        {
            Vector<float> s0 = default, d0 = default, s1 = default, d1 = default, r0 = default, e0 = default, r1 = default, e1 = default;
            ref readonly var at = ref Unsafe.Add(ref Unsafe.AsRef(in first), i);
            Fold(0, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            Fold(1, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            Fold(2, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            Fold(3, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            Fold(4, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            Fold(5, in tap, in at, ref s0, ref d0, ref s1, ref d1, ref r0, ref e0, ref r1, ref e1);
            peaks = Vector.MaxNative(peaks, Vector.MaxNative(Vector.Abs(s0) + Vector.Abs(d0), Vector.Abs(s1) + Vector.Abs(d1)));
            peaks = Vector.MaxNative(peaks, Vector.MaxNative(Vector.Abs(r0) + Vector.Abs(e0), Vector.Abs(r1) + Vector.Abs(e1)));
            if (i == last) return SampleSize.Largest(peaks);
        }
    }

    private static float MiddlePhasesPeak(ReadOnlySpan<float> samples)
    {
        var last = samples.Length - History - Vector<float>.Count;
        if (last < 0) return PlainPairPeak(samples, 1);
        var peaks = Vector<float>.Zero;
        ref readonly var first = ref MemoryMarshal.GetReference(samples);
        for (var i = 0; ; i = Math.Min(i + Vector<float>.Count, last))
        {
            Vector<float> s = default, d = default;
            for (var k = 0; k < Taps / 2; k++)
            {
                var near = Vector.LoadUnsafe(in first, (nuint)(i + k));
                var far = Vector.LoadUnsafe(in first, (nuint)(i + History - k));
                s = Vector.FusedMultiplyAdd(Spread[4 * k + 2], near + far, s);
                d = Vector.FusedMultiplyAdd(Spread[4 * k + 3], near - far, d);
            }
            peaks = Vector.MaxNative(peaks, Vector.Abs(s) + Vector.Abs(d));
            if (i == last) return SampleSize.Largest(peaks);
        }
    }

    /// <summary>What a tap and its mirror add to the sums and differences of both pairs: s, d for a vector of samples, r, e for the
    /// one behind it. Written out for each tap, they stay in registers.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Fold(int k, ref readonly Vector<float> taps, ref readonly float at,
        ref Vector<float> s0, ref Vector<float> d0, ref Vector<float> s1, ref Vector<float> d1,
        ref Vector<float> r0, ref Vector<float> e0, ref Vector<float> r1, ref Vector<float> e1)
    {
        ref var tap = ref Unsafe.Add(ref Unsafe.AsRef(in taps), 4 * k);
        var near = Vector.LoadUnsafe(in at, (nuint)k);
        var far = Vector.LoadUnsafe(in at, (nuint)(History - k));
        var (sum, difference) = (near + far, near - far);
        near = Vector.LoadUnsafe(in at, (nuint)(k + Vector<float>.Count));
        far = Vector.LoadUnsafe(in at, (nuint)(History - k + Vector<float>.Count));
        var (nextSum, nextDifference) = (near + far, near - far);
        var t = tap;
        s0 = Vector.FusedMultiplyAdd(t, sum, s0);
        r0 = Vector.FusedMultiplyAdd(t, nextSum, r0);
        t = Unsafe.Add(ref tap, 1);
        d0 = Vector.FusedMultiplyAdd(t, difference, d0);
        e0 = Vector.FusedMultiplyAdd(t, nextDifference, e0);
        t = Unsafe.Add(ref tap, 2);
        s1 = Vector.FusedMultiplyAdd(t, sum, s1);
        r1 = Vector.FusedMultiplyAdd(t, nextSum, r1);
        t = Unsafe.Add(ref tap, 3);
        d1 = Vector.FusedMultiplyAdd(t, difference, d1);
        e1 = Vector.FusedMultiplyAdd(t, nextDifference, e1);
    }

    /// <summary>One of the two mirrored pairs, sample by sample: what the vectors do, in the same order and as fused.</summary>
    internal static float PlainPairPeak(ReadOnlySpan<float> samples, int phase)
    {
        var peak = 0f;
        for (var i = 0; i < samples.Length - History; i++)
        {
            float s = 0, d = 0;
            for (var k = 0; k < Taps / 2; k++)
            {
                s = MathF.FusedMultiplyAdd(Folded[4 * k + 2 * phase], samples[i + k] + samples[i + History - k], s);
                d = MathF.FusedMultiplyAdd(Folded[4 * k + 2 * phase + 1], samples[i + k] - samples[i + History - k], d);
            }
            peak = Math.Max(peak, Math.Abs(s) + Math.Abs(d));
        }
        return peak;
    }
}
