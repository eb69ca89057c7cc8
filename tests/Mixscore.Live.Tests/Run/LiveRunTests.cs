using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Run;

public class LiveRunTests
{
    // The design's contract: at start nothing is sent.
    [Fact]
    public void Nothing_is_sent_before_it_is_armed()
    {
        var night = new VirtualNight(Pieces.Three()).At(0, RunEvent.Start()).RunFor(4000);
        Assert.All(night.Rows, row => Assert.Empty(row.Sent));
        Assert.Equal(4, night.Rows[^1].At + 0.02, 3);
    }

    [Fact]
    public void Armed_each_fader_is_where_its_ride_is_at_every_tick()
    {
        var night = new VirtualNight(Pieces.Three(delayMs: 38)).At(0, RunEvent.Arm).At(4000, RunEvent.Start()).RunFor(34_000);
        AssertOnPlan(night, night.Rows.Where(row => row.Seconds >= 4));
    }

    // Over its range the 14-bit wire of the design's example is coarser than the float's, and off is a number of its own.
    [Fact]
    public void So_it_is_over_fourteen_bits()
    {
        var night = new VirtualNight(Pieces.Three(), map: Pieces.Midi).At(0, RunEvent.Arm).At(4000, RunEvent.Start()).RunFor(34_000);
        AssertOnPlan(night, night.Rows.Where(row => row.Seconds >= 4));
    }

    [Fact]
    public void Arming_glides_from_where_the_desk_says_it_is()
    {
        var night = new VirtualNight(Pieces.Three());
        night.At(0, () => night.Desk.Grab(1, Decibels.Of(0), TimeSpan.Zero, night.Now)).At(10, () => night.Desk.Release(1));
        night.At(500, RunEvent.Arm).RunFor(1600);
        var way = night.Rows.Where(row => row.Seconds is >= 0.52 and < 0.9).Select(row => row.Desk[0]!.Value.Value).ToArray();
        Assert.InRange(way[0], -1.2, 0.1);
        for (var i = 1; i < way.Length; i++) Assert.InRange(way[i] - way[i - 1], -0.8, 0.001);   // 24 dB/s, and the desk's coarse places
        Assert.Equal(-10, night.Rows[^1].Desk[0]!.Value.Value, 1);
        Assert.All(night.Rows, row => Assert.Equal(Holder.Planned, row.Picture.Sources[0].Holder));
    }

    [Fact]
    public void It_counts_in_before_it_begins_and_waits_where_the_music_will_begin()
    {
        var night = new VirtualNight(Pieces.Three(), settings: new RunSettings { CountInBars = 1 });
        night.At(0, RunEvent.Arm).At(3000, RunEvent.Start(new Seconds(12))).RunFor(7000);
        Assert.Equal(10, night.Rows.First(row => row.Seconds >= 3).At, 3);
        Assert.Equal(12, night.Rows.First(row => row.Seconds >= 5).At, 3);
        // Bar 7 lies half way up the horn's ride.
        Assert.Equal(-10, night.Rows.First(row => row.Seconds >= 4.9).Picture.Sources[1].Gain!.Value.Value, 3);
    }

    // The players' click track begins with the plan's count-in; started together, the run and the track are together at bar 1.
    [Fact]
    public void It_counts_in_as_the_click_track_does()
    {
        var plan = Pieces.Three() with { Lead = new Seconds(6.25), CountInBars = 2 };
        var night = new VirtualNight(plan, settings: new RunSettings()).At(0, RunEvent.Start()).At(8000, RunEvent.Start(new Seconds(12))).RunFor(9000);
        Assert.Equal(-6.25, night.Rows[0].At, 9);
        Assert.Equal(12 - 4, night.Rows.First(row => row.Seconds >= 8).At, 9);
    }

    [Fact]
    public void Stopped_it_stands_and_begins_again_at_the_bar()
    {
        var night = new VirtualNight(Pieces.Three()).At(0, RunEvent.Start()).At(5000, RunEvent.Stop).At(6000, RunEvent.Start()).RunFor(6100);
        Assert.Equal(5, night.Rows.First(row => row.Seconds >= 5.9).At, 2);
        Assert.Equal(4, night.Rows.First(row => row.Seconds >= 6).At, 3);
    }

    [Fact]
    public void Staying_plays_a_bar_over_and_over_until_released()
    {
        var night = new VirtualNight(Pieces.Three()).At(0, RunEvent.Start()).At(5000, RunEvent.Stay()).At(12_500, RunEvent.Release).RunFor(16_000);
        var during = night.Rows.Where(row => row.Seconds is >= 5 and < 12.5).ToArray();
        Assert.All(during, row => Assert.InRange(row.At, 4 - 1e-9, 6));
        // From 4 on bar 3 was played four times before the release and ends once more at 14.
        Assert.Equal(6, night.Rows.First(row => row.Seconds >= 14 - 1e-9).At, 3);
        Assert.Equal(7.98, night.Rows[^1].At, 3);
    }

    [Fact]
    public void Standing_still_holds_every_fader()
    {
        var night = new VirtualNight(Pieces.Three()).At(0, RunEvent.Arm).At(3000, RunEvent.Start()).At(13_000, RunEvent.Stay(StayKind.Hold)).At(15_000, RunEvent.Release).RunFor(16_000);
        var during = night.Rows.Where(row => row.Seconds is > 13.1 and < 15).Select(row => row.Desk[1]).Distinct().ToArray();
        Assert.Single(during);
        Assert.Equal(10.98, night.Rows[^1].At, 2);
    }

    [Fact]
    public void A_jump_waits_for_the_barline_and_the_faders_glide()
    {
        var night = new VirtualNight(Pieces.Three(delayMs: 38)).At(0, RunEvent.Arm).At(3000, RunEvent.Start()).At(4000, RunEvent.Jump(new Seconds(16))).RunFor(9000);
        Assert.Equal(1.98, night.Rows.Last(row => row.Seconds < 5).At, 3);
        Assert.Equal(16, night.Rows.First(row => row.Seconds >= 5).At, 3);
        AssertNoFasterThan(night, 24);
    }

    internal static void AssertOnPlan(VirtualNight night, IEnumerable<VirtualNight.Row> rows)
    {
        var law = night.Map.Fader.Law;
        foreach (var row in rows)
            for (var i = 0; i < night.Plan.Sources.Count; i++)
            {
                var source = night.Plan.Sources[i];
                var heard = Math.Max(0, row.At - source.Source.Site.Link.Delay.Value);
                var wanted = source.Ride.At(night.Plan.Timeline.Tempo.QuartersAt(new Seconds(heard)));
                var sent = law.ToGain(law.Sent(row.Picture.Sources[i].Gain));
                // Off lies at the bottom: from there the speed limit lets a fader rise.
                var half = wanted is { } gain ? law.StepAt(gain).Value / 2 : 0;
                Assert.True(Math.Abs((wanted ?? law.Lowest).Value - (sent ?? law.Lowest).Value) <= half + 1e-6,
                    $"{source.Source.Name} at {row.At:0.000}: {sent} for {wanted}");
            }
    }

    internal static void AssertNoFasterThan(VirtualNight night, double perSecond)
    {
        for (var i = 0; i < night.Plan.Sources.Count; i++)
            for (var row = 1; row < night.Rows.Count; row++)
            {
                var (before, after) = (night.Rows[row - 1].Picture.Desks[i].Gain?.Value ?? -60, night.Rows[row].Picture.Desks[i].Gain?.Value ?? -60);
                Assert.True(Math.Abs(after - before) <= (perSecond * 0.02) + 1e-6, $"{night.Plan.Sources[i].Source.Name} at {night.Rows[row].Seconds:0.00}: {before} to {after}");
            }
    }
}
