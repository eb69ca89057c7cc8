using static Mixscore.Loudness.Tests.Tones;

namespace Mixscore.Loudness.Tests.Published;

// EBU Tech 3342 (2023), Table 1: 1 kHz stereo, 20 s each tone, within 1 LU. Signals 5 and 6 are authentic programmes.
// The tighter figures are derived: what an independent run of the same clauses read.
public class Tech3342Tests
{
    public static TheoryData<double, double[]> Signals => new()
    {
        { 10, [-20, -30] },
        { 5, [-20, -15] },
        { 20, [-40, -20] },
        { 15, [-50, -35, -20, -35, -50] },
    };

    [Theory, MemberData(nameof(Signals))]
    public void Signals_1_to_4_have_their_range(double wanted, double[] levels)
    {
        var range = Measured(Tones20(levels), measures: Measure.Range).Range?.Value;
        Within(1, wanted, range);
        Within(0.01, wanted, range);
    }

    // EBU Tech 3342, 3.1: a file is measured with at least 1.5 s of silence behind it.
    [Theory, MemberData(nameof(Signals))]
    public void Silence_behind_the_signal_keeps_the_range(double wanted, double[] levels) =>
        Within(1, wanted, Measured([.. Tones20(levels), .. new float[2 * Rate * 3 / 2]], measures: Measure.Range).Range?.Value);

    // EBU Tech 3342: a signal repeated whole keeps its range.
    [Theory, MemberData(nameof(Signals))]
    public void Repeating_a_signal_keeps_the_range(double wanted, double[] levels) =>
        Within(1, wanted, Measured(Tones20([.. levels, .. levels]), measures: Measure.Range).Range?.Value);

    // EBU Tech 3342, 3.1: windows overlap by 2.9 s at least. One a second, as some meters take, is another tenth of them: where sound
    // stops and goes it reads otherwise, ours as the plain reference does.
    [Fact]
    public void On_sound_that_stops_and_goes_a_window_a_second_reads_another_range()
    {
        var furthest = 0.0;
        for (var seed = 0; seed < 4; seed++)
        {
            var random = new Random(seed);
            var samples = new float[40 * Rate];
            for (var at = 0; at < samples.Length; at += (int)(Rate * (0.5 + 3 * random.NextDouble())))
            {
                var length = Math.Min((int)(Rate * (0.2 + random.NextDouble())), samples.Length - at);
                Programmes.Noise(length, Math.Pow(10, -1.5 * random.NextDouble()), random.Next()).CopyTo(samples, at);
            }
            var meter = Measured(samples, 1, measures: Measure.Range | Measure.EnergyTrack);
            Within(1e-6, new PlainMeter(samples, 1).Range!.Value, meter.Range?.Value);
            var (gate, track) = (new RangeGate(), meter.ToEnergyTrack());
            for (var second = 3; second <= 40; second++) gate.Add(track.MeanSquare(second - 3, second));
            furthest = Math.Max(furthest, Math.Abs((gate.Range()!.Value - meter.Range!.Value).Value));
        }
        Assert.InRange(furthest, 0.1, 3);
    }

    private static float[] Tones20(double[] levels) => Stereo(levels.Select(level => new Stretch(20, level)));
}
