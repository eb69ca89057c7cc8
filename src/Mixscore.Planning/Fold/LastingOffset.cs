using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>A source that stood so much higher or lower than planned nearly all the time that it sounded.</summary>
/// <param name="By">By how much, to half a decibel.</param>
/// <param name="Least">What it lay above for nine tenths of that time.</param>
/// <param name="Most">What it lay under for nine tenths of that time.</param>
internal sealed record LastingOffset(Decibels By, double Least, double Most)
{
    /// <summary>The part of its sounding time that must lie near the offset. Our own figure.</summary>
    private const double NearlyAll = 0.75;

    /// <summary>The offset; <c>null</c> where there is none.</summary>
    /// <param name="traces">The source in each night.</param>
    /// <param name="wanted">Where it was wanted.</param>
    /// <param name="now">Its ride as it is.</param>
    /// <param name="loudness">What its stem holds in each cell.</param>
    /// <param name="tolerance">How near is near.</param>
    internal static LastingOffset? Of(IReadOnlyList<NightTrace> traces, double?[] wanted, Ride now, IReadOnlyList<double?> loudness, double tolerance)
    {
        var grid = traces[0].Grid;
        var over = new List<(double Over, double Seconds)>();
        for (var i = 0; i < grid.Count; i++)
        {
            if (loudness[i] is null || now.At(grid.Middle[i]) is not { } gain || traces.All(trace => trace.State[i] == CellState.NotPlayed)) continue;
            over.Add(((wanted[i] ?? gain.Value) - gain.Value, grid.Seconds[i]));
        }
        if (over.Count == 0) return null;
        over.Sort();
        var middle = At(over, 0.5);
        var by = Math.Round(middle * 2) / 2;
        var near = over.Where(one => Math.Abs(one.Over - by) <= tolerance).Sum(one => one.Seconds);
        return Math.Abs(middle) >= tolerance && near >= NearlyAll * over.Sum(one => one.Seconds) ? new LastingOffset(Decibels.Of(by), At(over, 0.1), At(over, 0.9)) : null;
    }

    /// <summary>Such as <c>2–3 dB up all night</c>.</summary>
    internal string Words
    {
        get
        {
            var (least, most) = (Math.Round(Math.Min(Math.Abs(Least), Math.Abs(Most))), Math.Round(Math.Max(Math.Abs(Least), Math.Abs(Most))));
            return FormattableString.Invariant($"{(least == most ? $"{most:0}" : $"{least:0}–{most:0}")} dB {(By.Value > 0 ? "up" : "down")} all night");
        }
    }

    private static double At(List<(double Over, double Seconds)> sorted, double part)
    {
        var (all, sum) = (sorted.Sum(one => one.Seconds), 0.0);
        foreach (var (over, seconds) in sorted)
            if ((sum += seconds) >= part * all) return over;
        return sorted[^1].Over;
    }
}
