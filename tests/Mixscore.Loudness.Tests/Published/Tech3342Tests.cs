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

    private static float[] Tones20(double[] levels) => Stereo(levels.Select(level => new Stretch(20, level)));
}
