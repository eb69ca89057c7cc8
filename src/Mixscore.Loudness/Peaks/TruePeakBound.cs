namespace Mixscore.Loudness;

/// <summary>
/// How large the interpolation between samples can be at most, told from how large the samples are and how much they bend.
/// </summary>
/// <remarks>
/// By the whole: |Σ h x| ≤ Σ|h| max|x|, which is 2.02 max|x| for the worst phase. By the second difference: take from a phase's
/// taps h two taps a and b on the middle samples with the same sum and the same first moment as h. What is left, r, has neither,
/// and so is the second difference of a finite sequence g (its double running sum): Σ h x = a x5 + b x6 + Σ g (x'' ), hence
/// |Σ h x| ≤ (|a| + |b|) max|x| + Σ|g| max|x''|. The sum a + b is about 1, and x'' is small wherever sound is not all treble.
/// A hair is added for the rounding of floats: the filter adds 24 products of them.
/// </remarks>
internal sealed class TruePeakBound
{
    private const int Middle = TruePeakFilter.Taps / 2 - 1;
    private const float Hair = 1 + 1e-5f;
    private static readonly TruePeakBound AllPhases = new(TruePeakFilter.Phases);
    private static readonly TruePeakBound MiddlePhases = new(TruePeakFilter.Phases[1..]);

    private readonly float _whole;
    private readonly (float Size, float Bend)[] _phases;

    private TruePeakBound(float[][] phases)
    {
        _whole = phases.Max(taps => taps.Sum(Math.Abs)) * Hair;
        _phases = [.. phases.Select(Factors)];
    }

    /// <summary>The bound of the phases that a ratio computes; <c>null</c> for a ratio of 1, which computes none.</summary>
    public static TruePeakBound? Of(int ratio) => ratio switch { 4 => AllPhases, 2 => MiddlePhases, _ => null };

    /// <summary>The bound by magnitude alone.</summary>
    public float ByWhole(float largest) => _whole * largest;

    /// <summary>The bound by magnitude and second difference.</summary>
    public float BySecondDifference(float largest, float largestBend)
    {
        var most = 0f;
        foreach (var (size, bend) in _phases) most = Math.Max(most, size * largest + bend * largestBend);
        return most;
    }

    // A phase reversed has the same factors.
    private static (float Size, float Bend) Factors(float[] taps)
    {
        double sum = 0, moment = 0;
        for (var k = 0; k < taps.Length; k++) (sum, moment) = (sum + taps[k], moment + k * taps[k]);
        var b = moment - Middle * sum;
        var a = sum - b;
        double once = 0, twice = 0, bend = 0;
        for (var k = 0; k < taps.Length; k++)
        {
            once += taps[k] - (k == Middle ? a : k == Middle + 1 ? b : 0);
            twice += once;
            bend += Math.Abs(twice);
        }
        return ((float)(Math.Abs(a) + Math.Abs(b)) * Hair, (float)bend * Hair);
    }
}
