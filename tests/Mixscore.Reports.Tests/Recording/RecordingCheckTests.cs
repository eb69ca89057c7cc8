using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Reports.Tests.Page;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Recording;

/// <summary>The sample report's two sources, and recordings that hold what their marks ask in sum, so much louder, with some bars changed.</summary>
public sealed class RecordingCheckTests
{
    private static readonly ReportInput Sample = SampleReport.Make();

    [Theory]
    [InlineData(0)]
    [InlineData(-7.5)]
    public void A_recording_of_what_is_asked_lies_within_whatever_its_gain(double gain)
    {
        var check = Check(_ => gain, start: 4);
        Assert.Equal(gain, check.Gain!.Value.Value, 0.3);
        Assert.True(check.Told > 20, $"{check.Told} bars");
        Assert.Equal(check.Told, check.Within);
    }

    // Seconds 70 to 80 are bars 29 to 32; both sources are kept to 2 LU.
    [Fact]
    public void Bars_that_are_louder_than_all_marks_allow_are_told_and_no_others()
    {
        var check = Check(time => time is >= 70 and < 80 ? 6 : 0, start: 0);
        var outside = check.Bars.Where(bar => bar.Within == false).Select(bar => bar.Bar.Index).ToArray();
        Assert.Equal([29, 30, 31, 32], outside);
        Assert.Equal(6, (check.Bars[29].Recorded!.Value - check.Bars[29].Asked!.Value).Value, 0.5);
    }

    [Fact]
    public void Where_the_recording_does_not_reach_nothing_is_told()
    {
        var check = Check(_ => 0, start: 0, seconds: 50);
        Assert.All(check.Bars.Where(bar => Sample.Timeline.Tempo.SecondsAt(bar.Bar.Start).Value > 50), bar => Assert.Null(bar.Within));
        Assert.Contains(check.Bars, bar => bar.Within == true);
    }

    [Fact]
    public void Silence_tells_nothing_and_says_so()
    {
        var check = RecordingCheck.Of(Sample.Timeline, Sample.Result, "a.wav", Place(0), EnergyTrack.FromHops(0.01, new double[10_000]), EnergyTrack.FromHops(0.01, new double[10_000]));
        Assert.Null(check.Gain);
        Assert.Contains("No bar of it can be told.", check.Words);
    }

    [Fact]
    public void The_report_says_what_a_recording_cannot_tell()
    {
        var page = ReportPage.Write(Sample with { Result = Sample.Result with { Recording = Check(_ => 0, start: 0) } });
        Assert.Contains("not which source", page);
        Assert.Contains("&lt;hall&gt;.wav", page);
        Assert.DoesNotContain("NaN", page);
        Assert.Contains("\"recording\": {", CheckFile.Write(Sample.Result with { Recording = Check(_ => 0, start: 0) }));
    }

    private static RecordingPlace Place(double start) => new(new Seconds(start), 0, RecordingClue.Said, 1);

    private static RecordingCheck Check(Func<double, double> gain, double start, double? seconds = null)
    {
        var hops = (int)(((seconds ?? Sample.Timeline.Duration.Value) + start) * 100);
        var energy = new double[hops];
        for (var i = 0; i < hops; i++)
        {
            var time = i * 0.01 - start;
            energy[i] = time < 0 ? 1e-9 : Sample.Result.Sources.Sum(source => source.Trace.HopAt(new Seconds(time) - source.Trace.Delay) is var hop && hop < source.Trace.Active.Count && source.Trace.Target[hop] is { } target ? Math.Pow(10, (target - 23 + 0.691 + gain(time)) / 10) : 0);
        }
        var track = EnergyTrack.FromHops(0.01, energy);
        return RecordingCheck.Of(Sample.Timeline, Sample.Result, "<hall>.wav", Place(start), track, track);
    }
}
