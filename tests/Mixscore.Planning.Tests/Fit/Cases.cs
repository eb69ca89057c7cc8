using CsCheck;

namespace Mixscore.Planning.Tests.Fit;

/// <summary>Small problems by chance. Their numbers are coarse fractions, so that ties and touching bands are common.</summary>
internal static class Cases
{
    public static Gen<BandProblem> Small(int mostBeats = 8) => Make(1, mostBeats, Gen.Int[0, 2 * mostBeats]);

    /// <summary>Problems that are never off and that leave a choice of knots more often.</summary>
    public static Gen<BandProblem> Open => Make(4, 9, Gen.Const(int.MaxValue));

    private static Gen<BandProblem> Make(int fewestBeats, int mostBeats, Gen<int> offAt) =>
        from last in Gen.Int[Math.Max(1, fewestBeats - 1), mostBeats - 1]
        from lengths in Gen.OneOf(0.5, 1, 1, 1, 1.5).Array[last]
        from steepest in Gen.OneOf(1.0, 2, 3, 3, 50).Array[last]
        from samples in Sample.Array[fewestBeats > 1 ? last : 0, 3 * last]
        from off in offAt.Array[4]
        from home in Gen.Int[-4, 4]
        select Make(lengths, steepest, samples, off, home);

    /// <summary>For the message of a test that fails.</summary>
    public static string Print(BandProblem problem) =>
        $"beats {string.Join(' ', problem.Beats)}; steepest {string.Join(' ', problem.Steepest)}; {problem.Bottom}..{problem.Top}; "
        + $"off {string.Join(' ', problem.Off)}; samples {string.Join(' ', problem.Samples.Select(s => $"{s.At}:{s.Low}..{s.High}({s.Middle})"))}";

    private static Gen<(int Place, int Change, int Width, int Lean)> Sample =>
        Gen.Select(Gen.Int[0, 63], Gen.Int[-2, 2], Gen.OneOf(0, 2, 4, 4, 6, 6, 8), Gen.Int[-2, 2], (place, change, width, lean) => (place, change, width, lean));

    private static BandProblem Make(double[] lengths, double[] steepest, (int Place, int Change, int Width, int Lean)[] samples, int[] off, int home)
    {
        var beats = new double[lengths.Length + 1];
        for (var i = 0; i < lengths.Length; i++) beats[i + 1] = beats[i] + lengths[i];
        var level = home;
        double[] places = [.. samples.Select(sample => Place(sample.Place)).Order()];
        var made = new BandSample[samples.Length];
        for (var i = 0; i < made.Length; i++)
        {
            level = Math.Clamp(level + samples[i].Change, -9, 9);
            made[i] = new BandSample(places[i], level - samples[i].Width / 2.0, level + samples[i].Width / 2.0, level + samples[i].Lean * samples[i].Width / 8.0);
        }
        return new BandProblem(beats, steepest, made, -10, 10, Off(off, lengths.Length));

        // Half of the places are beats, the others lie a quarter, a half or three quarters of the way between.
        double Place(int pick)
        {
            var beat = pick / 4 % lengths.Length;
            return pick % 8 < 4 ? beats[beat + pick % 2] : beats[beat] + lengths[beat] * (pick % 4) / 4;
        }
    }

    /// <summary>Up to two stretches; about a third of the cases have none.</summary>
    private static OffStretch[] Off(int[] picks, int last)
    {
        int[] ends = [.. picks.Where(pick => pick <= last).Order()];
        if (ends.Length < 2) return [];
        if (ends.Length < 4 || ends[2] <= ends[1]) return [new OffStretch(ends[0], ends[1])];
        return [new OffStretch(ends[0], ends[1]), new OffStretch(ends[2], ends[3])];
    }
}
