namespace Mixscore.Audio.Tests.Demo;

public sealed class WavetableTests
{
    // Derived: partials 1, 1/2, 1/3 alone have energies 1 : 1/4 : 1/9; a table is scaled to a mean square of 1.
    [Fact]
    public void A_period_holds_the_partials_that_were_asked_for()
    {
        var period = new Wavetable(k => k <= 3 ? 1.0 / k : 0).At(100);
        var whole = 1 + 1 / 4.0 + 1 / 9.0;
        for (var k = 1; k <= 5; k++)
        {
            double sine = 0, cosine = 0;
            for (var n = 0; n < 2048; n++)
            {
                sine += period[n] * Math.Sin(2 * Math.PI * k * n / 2048) / 1024;
                cosine += period[n] * Math.Cos(2 * Math.PI * k * n / 2048) / 1024;
            }
            Assert.Equal(k <= 3 ? 1.0 / (k * k) / whole : 0, (sine * sine + cosine * cosine) / 2, 1e-6);
        }
    }

    // Law: the highest partial of a pitch stays under half of 48 kHz, in every octave.
    [Fact]
    public void No_partial_folds_back()
    {
        var table = new Wavetable(_ => 1);
        for (var pitch = 25.0; pitch < 5000; pitch *= 1.37)
        {
            var period = table.At(pitch);
            var limit = (int)(24_000 / pitch) + 1;
            for (var k = limit; k < Math.Min(1000, limit + 12); k++)
            {
                double sine = 0, cosine = 0;
                for (var n = 0; n < 2048; n++)
                {
                    sine += period[n] * Math.Sin(2 * Math.PI * k * n / 2048) / 1024;
                    cosine += period[n] * Math.Cos(2 * Math.PI * k * n / 2048) / 1024;
                }
                Assert.Equal(0, sine * sine + cosine * cosine, 1e-9);
            }
        }
    }
}
