namespace Mixscore.Loudness.Tests.Many;

/// <summary>Whether two ways of measuring agree: loudness to 1e-9 LU, hops to 1e-8, peaks and counts to the bit.</summary>
internal static class Alike
{
    public static void Same(LoudnessFigures wanted, LoudnessFigures found)
    {
        Assert.Equal((wanted.Format, wanted.Frames, wanted.InvalidSamples), (found.Format, found.Frames, found.InvalidSamples));
        Near(wanted.Momentary?.Value, found.Momentary?.Value);
        Near(wanted.ShortTerm?.Value, found.ShortTerm?.Value);
        Near(wanted.MaxMomentary?.Value, found.MaxMomentary?.Value);
        Near(wanted.MaxShortTerm?.Value, found.MaxShortTerm?.Value);
        Near(wanted.Integrated?.Value, found.Integrated?.Value);
        Near(wanted.Range?.Value, found.Range?.Value);
        Assert.Equal(wanted.SamplePeak, found.SamplePeak);
        Assert.Equal(wanted.TruePeak, found.TruePeak);
        if (!wanted.Measures.HasFlag(Measure.EnergyTrack)) return;
        ReadOnlySpan<double> hops = wanted.ToEnergyTrack().Hops, others = found.ToEnergyTrack().Hops;
        Assert.Equal(hops.Length, others.Length);
        // A single hop to 1e-8 LU, 2.3e-9 of its energy: one that follows a loud one keeps fewer digits. Under 1e-25 (-250 LUFS) lies what the rounding of loud sound leaves behind.
        for (var i = 0; i < hops.Length; i++) Assert.InRange(others[i], hops[i] * (1 - 2.3e-9) - 1e-25, hops[i] * (1 + 2.3e-9) + 1e-25);
    }

    private static void Near(double? wanted, double? found)
    {
        // What is softer than -200 LUFS is the rounding of loud sound that went before, and silence to any ear.
        if (!(wanted > -200) && !(found > -200)) return;
        Assert.NotNull(wanted);
        Assert.NotNull(found);
        Assert.Equal(wanted.Value, found.Value, 1e-9);
    }
}
