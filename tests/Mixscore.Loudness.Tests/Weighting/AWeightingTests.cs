namespace Mixscore.Loudness.Tests.Weighting;

public sealed class AWeightingTests
{
    // IEC 61672-1:2013, Table 3. The table holds at the exact frequencies 1000·10^(k/10), not at the nominal ones; its
    // figures are rounded to a tenth.
    private static readonly double[] Table =
    [
        -70.4, -63.4, -56.7, -50.5, -44.7, -39.4, -34.6, -30.2, -26.2, -22.5, -19.1, -16.1, -13.4, -10.9, -8.6, -6.6, -4.8,
        -3.2, -1.9, -0.8, 0, 0.6, 1.0, 1.2, 1.3, 1.2, 1.0, 0.5, -0.1, -1.1, -2.5, -4.3, -6.6, -9.3,
    ];

    [Fact]
    public void It_is_the_standards_table()
    {
        for (var i = 0; i < Table.Length; i++)
        {
            var hertz = 1000 * Math.Pow(10, (i - 20) / 10.0);
            Assert.Equal(Table[i], AWeighting.At(hertz).Value, 0.051);
        }
    }

    // Derived: at nominal 12.5 Hz the formula gives −63.58, where the table, at 12.59 Hz, has −63.4.
    [Fact]
    public void At_nominal_frequencies_it_is_the_formulas() => Assert.Equal(-63.58, AWeighting.At(12.5).Value, 0.01);

    [Fact]
    public void Nothing_moves_no_air() => Assert.Equal(0, AWeighting.Power(0));
}
