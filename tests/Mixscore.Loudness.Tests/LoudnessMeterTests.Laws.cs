using CsCheck;
using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests;

public partial class LoudnessMeterTests
{
    // Law: g dB more of everything reads g more on every scale, and the range stays. By doublings, so that no float rounds.
    [Fact]
    public void Gain_moves_every_figure_by_itself() =>
        Gen.Select(Gen.Int, Gen.Int[-4, 4]).Sample((seed, doublings) =>
        {
            var samples = Varied(seed);
            var (before, after) = (Measured(samples, 1), Measured([.. samples.Select(x => float.ScaleB(x, doublings))], 1));
            var change = 20 * Math.Log10(2) * doublings;
            Near(before.Momentary?.Value + change, after.Momentary?.Value);
            Near(before.MaxShortTerm?.Value + change, after.MaxShortTerm?.Value);
            Near(before.Integrated?.Value + change, after.Integrated?.Value);
            Near(before.TruePeak?.Value + change, after.TruePeak?.Value);
            Near(before.SamplePeak?.Value + change, after.SamplePeak?.Value);
            Near(before.Range?.Value, after.Range?.Value);
        }, iter: 6);

    // Law: the energies of channels add up.
    [Fact]
    public void Channels_add_by_energy() =>
        Gen.Select(Gen.Int, Gen.Int).Sample((one, other) =>
        {
            float[] left = Varied(one), right = Varied(other);
            var both = Measured([.. left.Zip(right).SelectMany(pair => new[] { pair.First, pair.Second })]);
            Lufs?[] parts = [Measured(left, 1).ShortTerm, Measured(right, 1).ShortTerm];
            Near(Lufs.PowerSum(parts.Select(part => part!.Value))?.Value, both.ShortTerm?.Value);
        }, iter: 6);

    // Derived: tones of different pitch are uncorrelated over whole periods of both. The filters' onset is 3 s past.
    [Fact]
    public void Uncorrelated_tones_add_by_energy()
    {
        float[] one = Channels(6, 500, Rate, -20), other = Channels(6, 1250, Rate, -26);
        var mixed = Measured([.. one.Zip(other, (a, b) => a + b)], 1).ShortTerm;
        var sum = Lufs.PowerSum([Measured(one, 1).ShortTerm!.Value, Measured(other, 1).ShortTerm!.Value]);
        Within(1e-4, sum!.Value.Value, mixed?.Value);
    }

    // Derived: the same tone twice in phase is 6.02 dB louder, on two channels 3.01 dB.
    [Fact]
    public void The_same_tone_adds_by_amplitude_on_one_channel_and_by_energy_on_two()
    {
        var tone = Channels(4, 997, Rate, -20);
        var once = Measured(tone, 1).Integrated!.Value;
        Within(1e-3, 6.0206, (Measured([.. tone.Select(x => 2 * x)], 1).Integrated - once)?.Value);
        Within(1e-3, 3.0103, (Measured(Channels(4, 997, Rate, -20, -20)).Integrated - once)?.Value);
    }

    // Law: a programme played again has the loudness and range that it had, but for the windows across the seams.
    [Fact]
    public void Repeating_a_programme_keeps_its_figures()
    {
        var once = Stereo([new(10, -26), new(10, -20), new(10, -40)]);
        var (first, thrice) = (Measured(once), Measured([.. once, .. once, .. once]));
        Within(0.1, first.Integrated!.Value.Value, thrice.Integrated?.Value);
        Within(0.2, first.Range!.Value.Value, thrice.Range?.Value);
    }

    // Law: leading and trailing silence changes nothing where no block straddles it loudly.
    [Fact]
    public void Silence_around_a_programme_is_gated_away()
    {
        var tone = Stereo([new(60, -23)]);
        var alone = Measured(tone).Integrated!.Value;
        Within(0.05, alone.Value, Measured([.. new float[20 * Rate], .. tone, .. new float[20 * Rate]]).Integrated?.Value);
    }

    // Law: the whole by the gating blocks of its parts. A mean of LUFS would give -25.
    [Fact]
    public void Several_meters_make_one_programme()
    {
        LoudnessMeter[] parts = [Measured(Stereo([new(30, -20)])), Measured(Stereo([new(30, -30)]))];
        var whole = Measured(Stereo([new(30, -20), new(30, -30)])).Integrated!.Value;
        Within(0.03, whole.Value, LoudnessMeter.IntegratedOf(parts)?.Value);
        Assert.Equal(parts[0].Integrated, LoudnessMeter.IntegratedOf([parts[0]]));
        Assert.Null(LoudnessMeter.IntegratedOf([]));
    }

    // Rates of one sound agree: a 997 Hz tone and its level do not depend on the sample rate.
    [Fact]
    public void The_sample_rate_hardly_matters() =>
        AnyRate.Sample(rate =>
        {
            var meter = Measured(Channels(4, 997, rate, -20), 1, rate);
            Within(0.05, -23.01, meter.Integrated?.Value);
            Within(0.05, -23.01, meter.MaxMomentary?.Value);
            Within(0.05, -20, meter.TruePeak?.Value);
            Within(0.001, 4, meter.Seconds);
        }, iter: 12);

    // 4 s of noise in four levels, all well above the gates.
    private static float[] Varied(int seed)
    {
        var random = new Random(seed);
        return [.. Enumerable.Range(0, 4).SelectMany(i =>
            Programmes.Noise(Rate, Math.Pow(10, -1 - random.NextDouble()), unchecked(seed + i)))];
    }
}
