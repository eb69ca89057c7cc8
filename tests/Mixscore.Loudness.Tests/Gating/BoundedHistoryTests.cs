using CsCheck;

namespace Mixscore.Loudness.Tests.Gating;

public class BoundedHistoryTests
{
    private const double Step = LevelHistogram.Width + 1e-6;

    // Levels that cluster, some around the gates of others, so that thresholds fall among them.
    private static readonly Gen<double[]> Blocks =
        from centres in Gen.Double[-75, 10].Array[1, 4]
        from picks in Gen.Select(Gen.Int[0, 3], Gen.Double[-0.5, 0.5]).Array[1, 400]
        select picks.Select(pick => new Lufs(centres[pick.Item1 % centres.Length] + pick.Item2).ToMeanSquare()).ToArray();

    // Law, and the error that is stated: exact gating with a threshold up to a bin higher or lower gives more and less.
    [Fact]
    public void Integrated_loudness_lies_between_those_of_thresholds_a_bin_away() => Blocks.Sample(blocks =>
    {
        var gate = new IntegratedGate(History.Bounded);
        foreach (var block in blocks) gate.Add(block);
        var loud = blocks.Where(block => block > Gates.Absolute).ToArray();
        if (loud.Length == 0)
        {
            Assert.Null(IntegratedGate.Loudness(gate));
            return;
        }
        double Gated(double shift) => loud.Where(block => block > 0.1 * loud.Average() * Math.Pow(10, shift / 10)).Average();
        Assert.InRange(IntegratedGate.Loudness(gate)!.Value.ToMeanSquare(), Gated(-Step) * (1 - 1e-9), Gated(Step) * (1 + 1e-9));
    }, iter: 400);

    // The same of the range: both ends within a bin of those that a threshold up to a bin away gives.
    [Fact]
    public void Range_is_that_of_thresholds_a_bin_away_within_two_bins() => Blocks.Sample(blocks =>
    {
        var gate = new RangeGate(History.Bounded);
        foreach (var block in blocks) gate.Add(block);
        var loud = blocks.Where(block => block >= Gates.Absolute).Order().ToArray();
        if (loud.Length == 0)
        {
            Assert.Null(gate.Range());
            return;
        }
        // Every way in which the blocks within a bin of the threshold can be split.
        var threshold = 0.01 * loud.Average();
        var first = Array.FindIndex(loud, block => block >= threshold * Math.Pow(10, -Step / 10));
        var last = Array.FindIndex(loud, block => block >= threshold * Math.Pow(10, Step / 10));
        var ranges = Enumerable.Range(first, (last < 0 ? loud.Length - 1 : last) - first + 1).Select(from =>
        {
            var kept = loud[from..];
            double At(int percent) => kept[((kept.Length - 1) * percent + 50) / 100];
            return 10 * Math.Log10(At(95) / At(10));
        }).ToArray();
        Assert.InRange(gate.Range()!.Value.Value, ranges.Min() - 2 * Step, ranges.Max() + 2 * Step);
    }, iter: 400);

    // Ten hours of blocks: the memory that a bounded history takes is the one that it took when it was made.
    [Fact]
    public void Ten_hours_take_no_memory()
    {
        IntegratedGate integrated = new(History.Bounded);
        RangeGate range = new(History.Bounded);
        integrated.Add(0.01);
        range.Add(0.01);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 10 * 3600 * 10; i++)
        {
            integrated.Add(1e-4 * (1 + i % 97));
            range.Add(1e-4 * (1 + i % 97));
        }
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.NotNull(range.Range());
    }
}
