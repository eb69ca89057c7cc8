namespace Mixscore.Reports;

/// <summary>
/// The eighteen one-third octave bands of ANSI S3.5-1997, table 3. The figures were read in two independent public codes
/// of the procedure, which agree; the standard itself was not seen. Levels are spectrum levels: dB a hertz.
/// </summary>
public static class SpeechBands
{
    /// <summary>How many bands there are; every list of bands here is as long.</summary>
    public const int Count = 18;

    /// <summary>Band centres, Hz.</summary>
    public static IReadOnlyList<double> Centres { get; } =
        [160, 200, 250, 315, 400, 500, 630, 800, 1000, 1250, 1600, 2000, 2500, 3150, 4000, 5000, 6300, 8000];

    /// <summary>How much each band counts for average speech; the sum is 1.</summary>
    public static IReadOnlyList<double> Importance { get; } =
    [
        0.0083, 0.0095, 0.0150, 0.0289, 0.0440, 0.0578, 0.0653, 0.0711, 0.0818,
        0.0844, 0.0882, 0.0898, 0.0868, 0.0844, 0.0771, 0.0527, 0.0364, 0.0185,
    ];

    /// <summary>Speech of normal effort at 1 m, dB SPL a hertz: 62.35 dB in all.</summary>
    public static IReadOnlyList<double> Normal { get; } =
    [
        32.41, 34.48, 34.75, 33.98, 34.59, 34.27, 32.06, 28.30, 25.01,
        23.00, 20.15, 17.32, 13.18, 11.55, 9.33, 5.31, 2.59, 1.13,
    ];

    /// <summary>A shout at 1 m, dB SPL a hertz.</summary>
    public static IReadOnlyList<double> Shout { get; } =
    [
        30.77, 36.65, 42.50, 46.51, 47.40, 49.24, 51.21, 51.44, 51.31,
        49.63, 47.65, 44.32, 40.80, 38.13, 34.41, 28.24, 23.45, 20.72,
    ];

    /// <summary>The ear's own noise, dB SPL a hertz.</summary>
    public static IReadOnlyList<double> OwnNoise { get; } =
    [
        0.6, -1.7, -3.9, -6.1, -8.2, -9.7, -10.8, -11.9, -12.5,
        -13.5, -15.4, -17.7, -21.2, -24.2, -25.9, -23.6, -15.8, -7.1,
    ];

    /// <summary>10·log10 of each band's width in Hz: what a band's level exceeds its spectrum level by.</summary>
    public static IReadOnlyList<double> Width { get; } =
    [
        15.65, 16.65, 17.65, 18.65, 19.65, 20.65, 21.65, 22.65, 23.65,
        24.65, 25.65, 26.65, 27.65, 28.65, 29.65, 30.65, 31.65, 32.65,
    ];
}
