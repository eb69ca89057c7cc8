using Mixscore.Loudness.Outside;

namespace Mixscore.Loudness.Tests.Outside;

/// <summary>
/// Two hundred random programmes against libebur128 in this process. Runs where <c>MIXSCORE_OUTSIDE=1</c>, as <c>tests/run</c>
/// sets it, and fails there if the library is missing.
/// </summary>
public class Libebur128Tests
{
    private const string Why = "checks by other programs run in tests/run, which sets MIXSCORE_OUTSIDE=1";
    private const int Programmes = 200;
    private static readonly int[] Rates = [44_100, 48_000, 96_000];

    public static TheoryData<int> Tens => [.. Enumerable.Range(0, Programmes / 10)];

    // Tolerances: momentary, short-term and integrated 0.001 LU at the same instants; range 0.05 LU at libebur128's hop of 1 s.
    // One that is under -70 LUFS is -70 or -infinity there and not compared.
    [Theory, MemberData(nameof(Tens))]
    public void Another_meter_reads_the_same_loudness(int ten)
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("MIXSCORE_OUTSIDE") == "1", Why);
        for (var seed = 10 * ten; seed < 10 * ten + 10; seed++)
        {
            var (rate, channels, samples) = Programme(seed);
            using var theirs = new Ebur128(channels, rate);
            var ours = new LoudnessMeter(new SoundFormat(rate, channels), Measure.All | Measure.EnergyTrack);
            var many = new StemsMeter([ours.Format], Measure.All);
            var step = rate / 10 * channels;
            for (var at = 0; at + step <= samples.Length; at += step)
            {
                var block = samples.AsSpan(at, step);
                theirs.Push(block);
                ours.Push(block);
                many.Push(Planar(block, channels));
                var where = $"seed {seed}, {channels} channels at {rate} Hz, {(double)(at + step) / channels / rate} s";
                if (ours.Seconds >= 0.4) Same(theirs.MomentaryLoudness, ours.Momentary, 0.001, where);
                if (ours.Seconds >= 0.4) Same(theirs.MomentaryLoudness, many[0].Momentary, 0.001, where);
                if (ours.Seconds >= 3) Same(theirs.ShortTermLoudness, ours.ShortTerm, 0.001, where);
            }
            Same(theirs.Integrated, ours.Integrated, 0.001, $"seed {seed}, integrated");
            if (ours.Seconds >= 3) Assert.Equal(theirs.LoudnessRange, RangeEverySecond(ours)?.Value ?? 0, 0.05);
        }
    }

    // Its interpolation is another than the standard's printed one: 49 taps of a windowed sinc. Written out here in plain sums it
    // gives its figures within 0.01 dB; by the same plain sums with the printed taps our own filter is tested (TruePeakFilterTests).
    [Theory, MemberData(nameof(Tens))]
    public void Another_meter_reads_the_true_peak_that_its_own_filter_gives(int ten)
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("MIXSCORE_OUTSIDE") == "1", Why);
        for (var seed = 10 * ten; seed < 10 * ten + 10; seed++)
        {
            var (rate, channels, samples) = Programme(seed);
            using var theirs = new Ebur128(channels, rate);
            theirs.Push(samples);
            var peak = Enumerable.Range(0, channels).Max(channel => WindowedSincPeak([.. samples.Where((_, i) => i % channels == channel)], rate < 96_000 ? 4 : 2));
            if (peak > 0) Assert.Equal(20 * Math.Log10(peak), 20 * Math.Log10(theirs.TruePeak), 0.01);
        }
    }

    private static void Same(double theirs, Lufs? ours, double tolerance, string where)
    {
        if (!(theirs > -69.99)) return;
        Assert.True(ours is { } found && Math.Abs(found.Value - theirs) <= tolerance, $"{where}: theirs {theirs}, ours {ours?.Value}");
    }

    private static Decibels? RangeEverySecond(LoudnessMeter meter)
    {
        var (gate, track) = (new RangeGate(), meter.ToEnergyTrack());
        for (var second = 3; second <= meter.Seconds + 1e-9; second++) gate.Add(track.MeanSquare(second - 3, second));
        return gate.Range();
    }

    private static double WindowedSincPeak(float[] samples, int ratio)
    {
        const int Taps = 49;
        double[] taps = [.. Enumerable.Range(0, Taps).Select(j =>
        {
            var x = (j - (Taps - 1) / 2.0) * Math.PI / ratio;
            return (Math.Abs(x) < 1e-9 ? 1 : Math.Sin(x) / x) * 0.5 * (1 - Math.Cos(2 * Math.PI * j / (Taps - 1)));
        })];
        var peak = samples.Max(sample => Math.Abs((double)sample));
        for (var n = 0; n < samples.Length; n++)
        {
            for (var phase = 0; phase < ratio; phase++)
            {
                var sum = 0.0;
                for (int j = phase, k = n; j < Taps && k >= 0; j += ratio, k--) sum += taps[j] * samples[k];
                peak = Math.Max(peak, Math.Abs(sum));
            }
        }
        return peak;
    }

    // Noise, tones, bursts like speech, and silences, each stretch of its own level and each channel of its own.
    private static (int Rate, int Channels, float[] Samples) Programme(int seed)
    {
        var random = new Random(seed);
        var (rate, channels) = (Rates[seed % Rates.Length], 1 + random.Next(5));
        var samples = new float[(int)(rate * (2 + 8 * random.NextDouble())) * channels];
        for (var channel = 0; channel < channels; channel++)
        {
            for (var at = channel; at < samples.Length;)
            {
                var end = Math.Min(samples.Length, at + channels * (int)(rate * (0.1 + 2 * random.NextDouble())));
                var (kind, level, step) = (random.Next(4), Math.Pow(10, -3 * random.NextDouble()), 0.005 + random.NextDouble());
                for (var i = 0; at < end; at += channels, i++)
                {
                    samples[at] = (float)(level * kind switch
                    {
                        0 => 2 * random.NextDouble() - 1,
                        1 => Math.Sin(step * i),
                        2 => (2 * random.NextDouble() - 1) * Math.Pow(Math.Sin(i * 12.0 / rate), 4),
                        _ => 0,
                    });
                }
            }
        }
        return (rate, channels, samples);
    }

    private static float[] Planar(ReadOnlySpan<float> interleaved, int channels)
    {
        var planar = new float[interleaved.Length];
        for (var i = 0; i < planar.Length; i++) planar[i % channels * (planar.Length / channels) + i / channels] = interleaved[i];
        return planar;
    }
}
