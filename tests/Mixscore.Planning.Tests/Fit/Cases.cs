using CsCheck;

namespace Mixscore.Planning.Tests.Fit;

/// <summary>Small problems by chance. Their numbers are coarse fractions, so that ties and touching bands are common.</summary>
internal static class Cases
{
    public static Gen<BandProblem> Small(int mostBeats = 8) => Make(1, mostBeats, Gen.Int[0, 2 * mostBeats]);

    /// <summary>Problems that are never off and that leave a choice of knots more often.</summary>
    public static Gen<BandProblem> Open => Make(4, 9, Gen.Const(int.MaxValue));

    /// <summary>Problems with one or two pins that the fader can keep, beside stretches off.</summary>
    public static Gen<BandProblem> Pinned(int mostBeats = 8) =>
        from problem in Small(mostBeats)
        from at in Gen.Int[0, mostBeats].Array[3]
        from gain in Gen.Int[-6, 6].Array[3]
        select Pin(problem, at, gain);

    private static BandProblem Pin(BandProblem problem, int[] at, int[] gain)
    {
        int[] places = [.. at.Where(beat => beat < problem.Beats.Length && !problem.Off.Any(off => off.From <= beat && beat <= off.To)).Distinct().Order()];
        var pins = new List<PinnedStretch>();
        var (last, lastGain) = (-1, 0.0);
        for (var i = 0; i < places.Length; i++)
        {
            var (beat, start) = (places[i], (double)gain[i]);
            if (last >= 0 && Math.Abs(start - lastGain) > Most(problem, last, beat)) continue;
            if (problem.Off.Any(off => start - problem.Bottom > Most(problem, Math.Min(off.To, beat), beat) + Most(problem, beat, Math.Max(off.From, beat)))) continue;
            // The first pin is a stretch to the next beat where that is free.
            var (to, end) = (beat, start);
            if (i == 0 && beat + 1 < problem.Beats.Length && !problem.Off.Any(off => off.From <= beat + 2 && beat <= off.To)
                && problem.Off.All(off => off.From < beat || start - problem.Bottom <= Most(problem, beat + 1, off.From))) to = beat + 1;
            pins.Add(new PinnedStretch(beat, to, start, end));
            (last, lastGain) = (to, end);
            if (i + 1 < places.Length && places[i + 1] <= to) i++;
        }
        return new BandProblem(problem.Beats, problem.Steepest, problem.Samples, problem.Bottom, problem.Top, problem.Off, [.. pins]);
    }

    private static double Most(BandProblem problem, int from, int to) =>
        Enumerable.Range(from, Math.Max(0, to - from)).Sum(i => problem.Steepest[i] * (problem.Beats[i + 1] - problem.Beats[i]));

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
        + $"off {string.Join(' ', problem.Off)}; pins {string.Join(' ', problem.Pins)}; samples {string.Join(' ', problem.Samples.Select(s => $"{s.At}:{s.Low}..{s.High}({s.Middle})"))}";

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
