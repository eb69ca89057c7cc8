using System.Numerics;

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

    // Half of tap k plus, or minus, half of its mirror; exact, as every tap is a multiple of 1/8192.
    private static readonly float[][] Sums = [.. Phases.Select(taps => Fold(taps, 1))];
    private static readonly float[][] Differences = [.. Phases.Select(taps => Fold(taps, -1))];

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
        4 => Math.Max(PairPeak(samples, 0), PairPeak(samples, 1)),
        2 => PairPeak(samples, 1),
        _ => 0,
    };

    private static float PairPeak(ReadOnlySpan<float> samples, int phase)
    {
        ReadOnlySpan<float> sums = Sums[phase], differences = Differences[phase];
        var peaks = Vector<float>.Zero;
        var i = 0;
        // Each sum is taken in the same order in both loops, and without fusing, so that they agree to the bit.
        for (; i <= samples.Length - History - Vector<float>.Count; i += Vector<float>.Count)
        {
            Vector<float> s = default, d = default;
            for (var k = 0; k < Taps / 2; k++)
            {
                var near = new Vector<float>(samples[(i + k)..]);
                var far = new Vector<float>(samples[(i + History - k)..]);
                s += sums[k] * (near + far);
                d += differences[k] * (near - far);
            }
            peaks = Vector.Max(peaks, Vector.Abs(s) + Vector.Abs(d));
        }
        var peak = 0f;
        for (var lane = 0; lane < Vector<float>.Count; lane++) peak = Math.Max(peak, peaks[lane]);
        for (; i < samples.Length - History; i++)
        {
            float s = 0, d = 0;
            for (var k = 0; k < Taps / 2; k++)
            {
                s += sums[k] * (samples[i + k] + samples[i + History - k]);
                d += differences[k] * (samples[i + k] - samples[i + History - k]);
            }
            peak = Math.Max(peak, Math.Abs(s) + Math.Abs(d));
        }
        return peak;
    }

    private static float[] Fold(float[] taps, int sign) =>
        [.. Enumerable.Range(0, Taps / 2).Select(k => (taps[k] + sign * taps[History - k]) / 2)];
}
