namespace Mixscore.Loudness.Tests.Gating;

public class GateTests
{
    // ITU-R BS.1770-5, Annex 1, eq. 6: strictly above -70 LKFS.
    [Fact]
    public void A_block_at_minus_70_exactly_does_not_count_for_integrated_loudness()
    {
        Assert.Null(Integrated(Gates.Absolute));
        Assert.NotNull(Integrated(Math.BitIncrement(Gates.Absolute)));
    }

    // EBU Tech 3342, 3.1: at or above -70 LUFS.
    [Fact]
    public void A_window_at_minus_70_exactly_counts_for_the_range()
    {
        Assert.Equal(Decibels.Zero, Range(Gates.Absolute));
        Assert.Null(Range(Math.BitDecrement(Gates.Absolute)));
    }

    // ITU-R BS.1770-5, Annex 1, eq. 7: strictly above. The mean of 19 and 1 is 10, its tenth is 1 exactly.
    [Fact]
    public void A_block_at_the_relative_gate_exactly_does_not_count()
    {
        Assert.Equal(Lufs.FromMeanSquare(19), Integrated(19, 1));
        Assert.Equal(Lufs.FromMeanSquare((18.9 + 1) / 2), Integrated(18.9, 1));
    }

    // EBU Tech 3342, 3.1: at or above. The mean of 199 and 1 is 100, its hundredth is 1 exactly.
    [Fact]
    public void A_window_at_the_relative_gate_exactly_counts_for_the_range()
    {
        Assert.Equal(Decibels.FromPowerRatio(199), Range(199, 1));
        Assert.Equal(Decibels.Zero, Range(200, 1));
    }

    // EBU Tech 3342, listing in 5: index round((n - 1) p / 100 + 1) from 1, no interpolation.
    [Theory]
    [InlineData(5, 1, 5)]      // 10 %: 1.4 → 1;  95 %: 4.8 → 5
    [InlineData(6, 2, 6)]      // 1.5 → 2, halves upwards;  5.75 → 6
    [InlineData(11, 2, 11)]    // 2;  10.5 → 11, halves upwards
    [InlineData(12, 2, 11)]    // 2.1 → 2;  11.45 → 11
    [InlineData(101, 11, 96)]
    public void Percentiles_are_taken_at_whole_places(int windows, int low, int high)
    {
        var loudnesses = Enumerable.Range(1, windows).Select(place => -20 + 0.1 * place).ToArray();
        Tones.Within(1e-9, 0.1 * (high - low), Range([.. loudnesses.Select(l => new Lufs(l).ToMeanSquare())])?.Value);
    }

    [Fact]
    public void The_order_of_the_blocks_does_not_matter()
    {
        double[] blocks = [0.5, 1e-4, 0.02, 0.3, 1e-9, 0.07];
        Tones.Within(1e-12, Integrated(blocks)!.Value.Value, Integrated([.. blocks.Reverse()])?.Value);
        Assert.Equal(Range(blocks), Range([.. blocks.Reverse()]));
    }

    // The store takes a new piece every 6000 blocks; nothing is lost at its seams.
    [Fact]
    public void Hours_of_blocks_are_kept_whole()
    {
        double[] blocks = [.. Enumerable.Range(1, 36_001).Select(i => 0.1 + i * 1e-6)];
        Tones.Within(1e-9, Lufs.FromMeanSquare(blocks.Average())!.Value.Value, Integrated(blocks)?.Value);
        Assert.Equal(Decibels.FromPowerRatio(blocks[34_200] / blocks[3600]), Range(blocks));
    }

    private static Lufs? Integrated(params double[] blocks)
    {
        var gate = new IntegratedGate();
        foreach (var block in blocks) gate.Add(block);
        return IntegratedGate.Loudness(gate);
    }

    private static Decibels? Range(params double[] windows)
    {
        var gate = new RangeGate();
        foreach (var window in windows) gate.Add(window);
        return gate.Range();
    }
}
