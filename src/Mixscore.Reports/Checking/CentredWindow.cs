namespace Mixscore.Reports;

/// <summary>
/// The 3 s energy average centred on an instant, over 10 ms hops: the short-term window of EBU Tech 3341 (2023) §2.2,
/// moved so that it looks as far ahead as back. Outside the signal there is silence.
/// </summary>
internal static class CentredWindow
{
    /// <summary>Hops of 10 ms in the window.</summary>
    internal const int Hops = 300;

    /// <summary>The mean over the window at the middle of each hop.</summary>
    /// <param name="energy">A mean square a hop, 0 or more.</param>
    /// <param name="hops">Hops in the window: even, 2 or more.</param>
    /// <returns>As many values as hops.</returns>
    internal static double[] Mean(ReadOnlySpan<double> energy, int hops = Hops)
    {
        var half = hops / 2;
        var sums = new double[energy.Length + 1];
        for (var i = 0; i < energy.Length; i++) sums[i + 1] = sums[i] + energy[i];

        var means = new double[energy.Length];
        for (var i = 0; i < means.Length; i++)
        {
            // Centred on a hop's middle, the window ends in the middle of the hops at either end.
            var whole = sums[Math.Min(energy.Length, i + half)] - sums[Math.Max(0, i - half + 1)];
            var before = i >= half ? energy[i - half] : 0;
            var after = i + half < energy.Length ? energy[i + half] : 0;
            means[i] = Math.Max(0, whole + (before + after) / 2) / hops;
        }
        return means;
    }
}
