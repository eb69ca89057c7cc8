using System.Numerics;

namespace Mixscore.Loudness.Tests.Filter;

public class KWeightingTests
{
    // ITU-R BS.1770-5, Annex 1, Table 1 at 48 kHz. The derivation gives back 12 digits.
    [Fact]
    public void The_shelf_at_48_kHz_is_table_1() =>
        Same(new(1.53512485958697, -2.69169618940638, 1.19839281085285, -1.69065929318241, 0.73248077421585),
            KWeighting.Shelf(48_000), 2e-12);

    // ITU-R BS.1770-5, Annex 1, Table 2 at 48 kHz.
    [Fact]
    public void The_high_pass_at_48_kHz_is_table_2() =>
        Same(new(1, -2, 1, -1.99004745483398, 0.99007225036621), KWeighting.HighPass(48_000), 2e-14);

    // Derived: the re-derivation computed apart from this code.
    [Theory]
    [InlineData(44_100, 1.53084123004984, -2.65097999515370, 1.16907907992107, -1.66365511325602, 0.71259542807323)]
    [InlineData(88_200, 1.55751537557909, -2.90562707992522, 1.36133397747165, -1.83091998796233, 0.84414226108785)]
    [InlineData(96_000, 1.55971422897523, -2.92674157824995, 1.37826120231525, -1.84460946989011, 0.85584332293064)]
    [InlineData(192_000, 1.57222721509069, -3.04728305156038, 1.47797134097902, -1.92220223060749, 0.92511773511683)]
    public void The_shelf_at_other_rates(int rate, double b0, double b1, double b2, double a1, double a2) =>
        Same(new(b0, b1, b2, a1, a2), KWeighting.Shelf(rate), 1e-13);

    // Derived, likewise.
    [Theory]
    [InlineData(44_100, -1.98916967362980, 0.98919903578704)]
    [InlineData(88_200, -1.99457751545034, 0.99458487587805)]
    [InlineData(96_000, -1.99501754472472, 0.99502375904092)]
    [InlineData(192_000, -1.99750722284070, 0.99750877835551)]
    public void The_high_pass_at_other_rates(int rate, double a1, double a2) =>
        Same(new(1, -2, 1, a1, a2), KWeighting.HighPass(rate), 1e-13);

    // Derived from Tables 1 and 2: both stages together, dB.
    [Theory]
    [InlineData(20, -13.275), InlineData(25, -10.393), InlineData(31.5, -7.790), InlineData(50, -3.934)]
    [InlineData(100, -1.134), InlineData(200, -0.265), InlineData(500, 0.043), InlineData(997, 0.691)]
    [InlineData(1000, 0.698), InlineData(2000, 3.071), InlineData(4000, 3.968), InlineData(8000, 4.039)]
    [InlineData(10_000, 4.042), InlineData(20_000, 4.043)]
    public void The_response_at_48_kHz(double frequency, double decibels) =>
        Assert.Equal(decibels, Response(48_000, frequency), 0.0006);

    // Derived: K-weighting's gain at 997 Hz.
    [Theory, InlineData(44_100, 0.6938), InlineData(48_000, 0.6910), InlineData(88_200, 0.6753), InlineData(96_000, 0.6737)]
    [InlineData(192_000, 0.6639)]
    public void The_gain_at_997_Hz_at_each_rate(int rate, double decibels) =>
        Assert.Equal(decibels, Response(rate, 997), 0.00006);

    // ITU-R BS.1770-5, Annex 1 asks for the same response at every rate; 0.2 dB up to 10 kHz is our own bound, where rates meet.
    [Theory, InlineData(32_000), InlineData(44_100), InlineData(96_000), InlineData(192_000)]
    public void The_response_hardly_depends_on_the_rate(int rate)
    {
        foreach (var frequency in new double[] { 25, 50, 100, 300, 1000, 2000, 5000, 10_000 })
            Assert.Equal(Response(48_000, frequency), Response(rate, frequency), 0.2);
    }

    private static double Response(int rate, double frequency)
    {
        var z = Complex.FromPolarCoordinates(1, -2 * Math.PI * frequency / rate);
        return 20 * Math.Log10((Transfer(KWeighting.Shelf(rate), z) * Transfer(KWeighting.HighPass(rate), z)).Magnitude);
    }

    private static Complex Transfer(Biquad f, Complex z) => (f.B0 + f.B1 * z + f.B2 * z * z) / (1 + f.A1 * z + f.A2 * z * z);

    private static void Same(Biquad wanted, Biquad found, double tolerance)
    {
        Assert.Equal(wanted.B0, found.B0, tolerance);
        Assert.Equal(wanted.B1, found.B1, tolerance);
        Assert.Equal(wanted.B2, found.B2, tolerance);
        Assert.Equal(wanted.A1, found.A1, tolerance);
        Assert.Equal(wanted.A2, found.A2, tolerance);
    }
}
