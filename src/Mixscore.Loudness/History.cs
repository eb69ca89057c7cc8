namespace Mixscore.Loudness;

/// <summary>How a meter remembers the blocks that integrated loudness and range look back on.</summary>
public enum History
{
    /// <summary>Every block: 0.29 MB an hour for each of the two, 2.9 MB in ten hours; reading looks through all of them.</summary>
    Exact,

    /// <summary>
    /// By level in bins of 0.01 LU: 160 kB for each of the two at any length, and the same time to read after ten hours as after
    /// one. Integrated loudness is what exact gating gives with a relative threshold at most 0.01 LU away; each end of the range
    /// is that within 0.01 LU.
    /// </summary>
    Bounded,
}
