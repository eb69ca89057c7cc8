using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Finds the click of a piece in one channel of a recording: first roughly, over all places and the drifts that recorders
/// have, by how many clicks would be heard; then by a straight line through those that are heard; at last by all of them
/// together, phase by phase. Clicks may be missing and noise may be as loud.
/// </summary>
public static class ClickFinder
{
    /// <summary>Parts per million that two clocks may differ by. Common practice, no source: crystals are within 100.</summary>
    private const double MostDrift = 400e-6;

    private const double BinSeconds = 0.001;

    /// <summary>A click stands out if it is so many times the median of what its filter hears, and counts no more however loud it is.</summary>
    private const float StandsOut = 4, Counts = 6;

    /// <summary>With fewer than this part of the clicks heard it is not this piece's click.</summary>
    private const double LeastHeard = 0.4;

    private const int LeastClicks = 8;

    /// <summary>Looks for the click.</summary>
    /// <param name="samples">One channel.</param>
    /// <param name="sampleRate">Its rate, by the recorder's own clock.</param>
    /// <param name="times">The click.</param>
    /// <returns><c>null</c> where it is not found.</returns>
    public static ClickFound? Find(ReadOnlySpan<float> samples, int sampleRate, ClickTimes times)
    {
        var filters = Enum.GetValues<ClickKind>().Select(kind => new ClickFilter(kind, sampleRate)).ToArray();
        var bin = Math.Max(1, (int)Math.Round(BinSeconds * sampleRate));
        var heard = new float[filters.Length][];
        for (var kind = 0; kind < filters.Length; kind++) heard[kind] = Scaled(filters[kind].Bins(samples, bin), times.Strokes.Count(stroke => (int)stroke.Kind == kind));
        var grid = new ClickGrid(heard, (double)bin / sampleRate, [.. times.Strokes.Select(stroke => (stroke.Time.Value, (int)stroke.Kind))], Counts);
        if (grid.Best(MostDrift) is not { } rough) return null;
        var windows = new ClickWindows(samples, sampleRate, filters, times, rough);
        if (windows.Line(heard, bin, StandsOut) is not { } line) return null;
        var (expected, found) = windows.Count(line, heard, bin, StandsOut);
        if (found < LeastClicks || found < LeastHeard * expected) return null;
        var fine = windows.Together(line);
        return new ClickFound(new Seconds(fine.Start), fine.Drift * 1e6, found, expected);
    }

    /// <summary>
    /// Over the median; but where a recording is so quiet that this would make a click out of its own beginnings, so that
    /// as many bins as there are clicks stand at twice what one counts: a place a millisecond off counts as much as the peak.
    /// </summary>
    private static float[] Scaled(float[] bins, int clicks)
    {
        if (bins.Length == 0) return bins;
        var sorted = bins.Order().ToArray();
        var tall = sorted[Math.Clamp(sorted.Length - clicks, 0, sorted.Length - 1)];
        var unit = Math.Max(sorted[sorted.Length / 2], Math.Max(tall / (2 * Counts), 1e-9f));
        return [.. bins.Select(value => value / unit)];
    }
}

/// <summary>A clock against another: a time t of the one is <see cref="Start"/> + (1 + <see cref="Drift"/>)·t of the other.</summary>
internal readonly record struct ClockLine(double Start, double Drift)
{
    internal double At(double time) => Start + (1 + Drift) * time;
}
