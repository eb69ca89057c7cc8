using CsCheck;

namespace Mixscore.Planning.Tests.Fit;

/// <summary>
/// Problems by chance of twenty to fifty beats, with bands laid about a hidden ride, so that most can be ridden; limits of
/// speed, stretches off and pins. All their numbers stand on the <see cref="Lattice"/>.
/// </summary>
internal static class MediumCases
{
    private const double Bottom = -10, Top = 10;

    /// <summary>Quarters beside a stretch off without a demand: from top to bottom at the slowest speed.</summary>
    private const double Fade = 7;

    public static Gen<BandProblem> All => Gen.Int[0, 1_000_000].Select(seed => Make(new Random(seed)));

    private static BandProblem Make(Random random)
    {
        var beats = new double[random.Next(20, 50)];
        for (var i = 1; i < beats.Length; i++) beats[i] = beats[i - 1] + random.Next(1, 4) / 2.0;
        double speed = random.Next(3, 9);
        double[] steepest = [.. beats.Skip(1).Select(_ => speed + random.Next(0, 3))];
        var off = Off(random, beats.Length);
        var hidden = Hidden(random, beats, speed);
        return new BandProblem(beats, steepest, Samples(random, beats, off, hidden), Bottom, Top, off, Pins(random, beats, off, hidden));
    }

    /// <summary>Up to two stretches, with room around them.</summary>
    private static OffStretch[] Off(Random random, int count)
    {
        var stretches = new List<OffStretch>();
        for (var from = random.Next(0, 2 * count); from + 3 < count && stretches.Count < 2; from += random.Next(8, count))
        {
            var to = Math.Min(count - 1, from + random.Next(0, 4));
            stretches.Add(new OffStretch(from, to));
            from = to;
        }
        return [.. stretches];
    }

    /// <summary>The gain on each beat of a ride with a corner every few beats.</summary>
    private static double[] Hidden(Random random, double[] beats, double speed)
    {
        var gains = new double[beats.Length];
        var (at, gain) = (0, random.Next(-60, 61) / 10.0);
        while (at + 1 < beats.Length)
        {
            var to = Math.Min(beats.Length - 1, at + random.Next(2, 9));
            var most = 0.8 * speed * (beats[to] - beats[at]);
            var next = Math.Clamp(random.Next(-80, 81) / 10.0, gain - most, gain + most);
            for (var i = at; i <= to; i++) gains[i] = gain + (next - gain) * (beats[i] - beats[at]) / (beats[to] - beats[at]);
            (at, gain) = (to, next);
        }
        return gains;
    }

    private static BandSample[] Samples(Random random, double[] beats, OffStretch[] off, double[] hidden)
    {
        var samples = new List<BandSample>();
        var (width, astray) = (random.Next(500, 4000), random.Next(8) == 0 ? 1500 : 0);
        for (var i = 0; i + 1 < beats.Length; i++)
            for (var at = beats[i]; at < beats[i + 1]; at += 1.0 / Lattice.PerQuarter)
            {
                if (random.Next(3) > 0 || off.Any(stretch => beats[stretch.From] - Fade < at && at < beats[stretch.To] + Fade)) continue;
                var gain = hidden[i] + (hidden[i + 1] - hidden[i]) * (at - beats[i]) / (beats[i + 1] - beats[i]);
                var low = (int)Math.Round(gain * Lattice.PerDb) - random.Next(0, width) + random.Next(-astray, astray + 1);
                samples.Add(new BandSample(at, low / (double)Lattice.PerDb, (low + width) / (double)Lattice.PerDb, (low + width / 2.0) / Lattice.PerDb));
            }
        return [.. samples];
    }

    /// <summary>Up to two, on the hidden ride as near as the lattice has it, and as far from off as a fade needs.</summary>
    private static PinnedStretch[] Pins(Random random, double[] beats, OffStretch[] off, double[] hidden)
    {
        var pins = new List<PinnedStretch>();
        for (var from = random.Next(0, 2 * hidden.Length); from < hidden.Length && pins.Count < 2; from += random.Next(5, hidden.Length))
        {
            var to = Math.Min(hidden.Length - 1, from + random.Next(0, 3));
            if (!off.Any(stretch => beats[stretch.From] - Fade < beats[to] && beats[from] < beats[stretch.To] + Fade)) pins.Add(new PinnedStretch(from, to, OnLattice(hidden[from]), OnLattice(hidden[to])));
            from = to;
        }
        return [.. pins];
    }

    private static double OnLattice(double gain) => Math.Round(gain * Lattice.PerDb / Lattice.Step) * Lattice.Step / Lattice.PerDb;
}
