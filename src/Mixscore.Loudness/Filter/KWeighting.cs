namespace Mixscore.Loudness;

/// <summary>
/// The coefficients of the two K-weighting stages at a sample rate, a0 = 1.
/// </summary>
/// <remarks>
/// ITU-R BS.1770-5, Annex 1, Tables 1 and 2 give them at 48 kHz alone and ask for the same frequency response at other rates.
/// The analogue prototypes below are those of B. De Man, "Evaluation of Implementations of the EBU R128 Loudness Measurement"
/// (AES 145, 2018), which give back the tables' figures to 2e-12.
/// </remarks>
internal static class KWeighting
{
    /// <summary>Stage 1, the head's shelf: corner, Hz.</summary>
    private const double ShelfFrequency = 1681.9744509555319;

    /// <summary>Stage 1: quality of the corner.</summary>
    private const double ShelfQ = 0.7071752369554193;

    /// <summary>Stage 1: gain of the shelf, dB.</summary>
    private const double ShelfGain = 3.99984385397;

    /// <summary>Stage 1: the band term's gain is the shelf's to this power.</summary>
    private const double ShelfBandExponent = 0.499666774155;

    /// <summary>Stage 2, the RLB high-pass: corner, Hz.</summary>
    private const double HighPassFrequency = 38.13547087613982;

    /// <summary>Stage 2: quality of the corner.</summary>
    private const double HighPassQ = 0.5003270373253953;

    /// <summary>Stage 1, ITU-R BS.1770-5, Annex 1, Table 1 at 48 kHz.</summary>
    public static Biquad Shelf(int sampleRate)
    {
        var k = Math.Tan(Math.PI * ShelfFrequency / sampleRate);
        var high = Math.Pow(10, ShelfGain / 20);
        var band = Math.Pow(high, ShelfBandExponent);
        var a0 = 1 + k / ShelfQ + k * k;
        return new(
            B0: (high + band * k / ShelfQ + k * k) / a0,
            B1: 2 * (k * k - high) / a0,
            B2: (high - band * k / ShelfQ + k * k) / a0,
            A1: 2 * (k * k - 1) / a0,
            A2: (1 - k / ShelfQ + k * k) / a0);
    }

    /// <summary>
    /// Stage 2, ITU-R BS.1770-5, Annex 1, Table 2 at 48 kHz. The numerator stays 1, -2, 1 at every rate as in the table, so the
    /// pass band moves by up to 0.03 dB between 48 and 192 kHz.
    /// </summary>
    public static Biquad HighPass(int sampleRate)
    {
        var k = Math.Tan(Math.PI * HighPassFrequency / sampleRate);
        var a0 = 1 + k / HighPassQ + k * k;
        return new(B0: 1, B1: -2, B2: 1, A1: 2 * (k * k - 1) / a0, A2: (1 - k / HighPassQ + k * k) / a0);
    }
}
