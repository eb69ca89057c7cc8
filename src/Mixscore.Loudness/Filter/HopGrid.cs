namespace Mixscore.Loudness;

/// <summary>
/// Cuts time into hops of 10 ms: hop i runs from frame round(i fs / 100) up to that of i + 1. Where 10 ms is no whole number of
/// frames the hops differ by one frame and never drift.
/// </summary>
internal readonly record struct HopGrid(int SampleRate)
{
    /// <summary>
    /// Fine enough that a 0.4 s tone beginning at any 10 ms is caught whole (EBU Tech 3341, test signals 13 and 14), and a tenth
    /// of the gating step.
    /// </summary>
    public const int HopsPerSecond = 100;

    /// <summary>Hops from one gating block or range window to the next: 100 ms. BS.1770-5, Annex 1; EBU Tech 3342, 3.1.</summary>
    public const int Step = 10;

    /// <summary>Hops in a gating block and the momentary window: 0.4 s. BS.1770-5, Annex 1; EBU Tech 3341, 2.2.</summary>
    public const int Momentary = 40;

    /// <summary>Hops in the short-term window: 3 s. EBU Tech 3341, 2.2; EBU Tech 3342, 3.1.</summary>
    public const int ShortTerm = 300;

    /// <summary>Frames in the longest hop.</summary>
    public int LongestHop => SampleRate / HopsPerSecond + 1;

    /// <summary>The frame at which a hop begins.</summary>
    public long Start(long hop) => (hop * SampleRate + HopsPerSecond / 2) / HopsPerSecond;

    /// <summary>Frames from the beginning of one hop to that of another.</summary>
    public long Frames(long from, long to) => Start(to) - Start(from);
}
