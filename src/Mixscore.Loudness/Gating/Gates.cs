namespace Mixscore.Loudness;

/// <summary>Thresholds as mean squares, so that blocks need no logarithm.</summary>
internal static class Gates
{
    /// <summary>
    /// -70 LUFS. ITU-R BS.1770-5, Annex 1, eq. 6 (blocks strictly above); EBU Tech 3342, 3.1 (windows at or above).
    /// </summary>
    public static readonly double Absolute = new Lufs(-70).ToMeanSquare();

    /// <summary>-10 LU: integrated loudness, strictly above. ITU-R BS.1770-5, Annex 1, eq. 6 and 7.</summary>
    public const double RelativeForIntegrated = 0.1;

    /// <summary>-20 LU: loudness range, at or above. EBU Tech 3342, 3.1.</summary>
    public const double RelativeForRange = 0.01;
}
