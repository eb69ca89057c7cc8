using CsCheck;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Checking;

/// <summary>All derived: energies are chosen so that the levels are known.</summary>
public class SourceCheckTests
{
    private const double Reference = -23;

    //  hops       0 ......... 1000 ......... 2000
    //  stem       |  −33 LUFS                |        gain +7 dB → −3 LU over −23 LUFS
    [Fact]
    public void A_steady_stem_through_a_steady_ride_is_heard_at_the_sum_of_both()
    {
        var trace = SourceCheck.Trace(Steady(2000, stem: -33, gain: 7, asked: -3));
        Assert.Equal(-3, trace.Heard[1000]!.Value, 1e-9);
        Assert.Equal(-10, trace.Stem[1000]!.Value, 1e-9);
        Assert.Equal(-3, trace.Target[1000]!.Value, 1e-9);
        Assert.Equal((-5, -1), (Math.Round(trace.Low[1000]!.Value, 9), Math.Round(trace.High[1000]!.Value, 9)));
    }

    [Fact]
    public void An_exact_ride_is_never_outside_whatever_steps_and_rests_there_are() =>
        Gen.Select(Gen.Int[1, 1999], Gen.Double[-24, 0], Gen.Double[-24, 0], Gen.Int[1, 900], Gen.Int[1, 600], Gen.Double[-50, -20]).Sample((step, before, after, rest, length, stem) =>
        {
            var input = Steady(2000, stem, 0, 0);
            for (var i = 0; i < 2000; i++)
            {
                input.Asked[i] = input.AskedLow[i] = input.AskedHigh[i] = Power(i < step ? before : after);
                input.Plays[i] = i < rest || i >= rest + length;
                if (!input.Plays[i]) input.StemEnergy[i] = 0;
                input.HeardEnergy[i] = input.StemEnergy[i] * input.Asked[i] / Power(stem - Reference);
            }
            var trace = SourceCheck.Trace(input);
            for (var from = 0; from < 2000; from += 50)
            {
                var (target, heard, within, part) = SourceCheck.Stretch(trace, new Seconds(from * 0.01), new Seconds((from + 50) * 0.01));
                if (part == 0) continue;
                Assert.Equal(target!.Value, heard!.Value, 1e-6);
                Assert.True(within);
            }
        }, iter: 40);

    [Theory, InlineData(1.9, true), InlineData(2.1, false), InlineData(-1.9, true), InlineData(-2.1, false)]
    public void A_source_may_stray_as_far_as_the_plan_says_and_no_further(double off, bool isWithin)
    {
        var trace = SourceCheck.Trace(Steady(2000, stem: -33, gain: 10 - 6 + off, asked: -6));
        Assert.Equal(isWithin, SourceCheck.Stretch(trace, new Seconds(8), new Seconds(12)).Within);
    }

    [Fact]
    public void Where_the_marks_say_off_there_is_nothing_to_judge()
    {
        var input = Steady(2000, stem: -33, gain: 4, asked: -6);
        Array.Clear(input.Asked, 1000, 1000);
        Array.Clear(input.AskedLow, 1000, 1000);
        Array.Clear(input.AskedHigh, 1000, 1000);
        var trace = SourceCheck.Trace(input);
        Assert.Null(SourceCheck.Stretch(trace, new Seconds(12), new Seconds(14)).Target);
        Assert.NotNull(SourceCheck.Stretch(trace, new Seconds(9), new Seconds(11)).Target);
    }

    // A source is heard its link's delay after the click: the sound of second 5 stands at 5.5 s in the stem.
    [Fact]
    public void A_bar_is_judged_where_its_sound_arrives()
    {
        var input = Steady(2000, stem: -33, gain: 0, asked: -10) with { Delay = new Seconds(0.5) };
        for (var i = 0; i < 2000; i++) input.Plays[i] = i is >= 550 and < 650;
        var trace = SourceCheck.Trace(input);
        Assert.Equal(1, SourceCheck.Stretch(trace, new Seconds(5), new Seconds(6)).ActivePart, 1e-9);
        Assert.Equal(0, SourceCheck.Stretch(trace, new Seconds(4), new Seconds(5)).ActivePart, 1e-9);
        Assert.Equal(0, SourceCheck.Stretch(trace, new Seconds(6), new Seconds(7)).ActivePart, 1e-9);
    }

    private static SourceCheck.Input Steady(int hops, double stem, double gain, double asked) => new()
    {
        StemEnergy = Filled(hops, Math.Pow(10, (stem + 0.691) / 10)),
        HeardEnergy = Filled(hops, Math.Pow(10, (stem + gain + 0.691) / 10)),
        Plays = [.. Enumerable.Repeat(true, hops)],
        Asked = Filled(hops, Power(asked)),
        AskedLow = Filled(hops, Power(asked)),
        AskedHigh = Filled(hops, Power(asked)),
        Reference = Reference,
        Within = Enumerable.Repeat(2.0, hops).ToArray(),
        Delay = Seconds.Zero,
    };

    private static double[] Filled(int hops, double value) => [.. Enumerable.Repeat(value, hops)];

    private static double Power(double decibels) => Math.Pow(10, decibels / 10);
}
