using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Run;

/// <summary>What goes wrong in a night, in virtual time.</summary>
public class FaultsTests
{
    [Fact]
    public void A_machine_that_was_suspended_goes_on_where_the_click_is_and_no_fader_leaps()
    {
        var night = Started();
        night.At(14_000, () => night.IsSuspended = true).At(17_000, () => night.IsSuspended = false).RunFor(22_000);
        Assert.Equal(14, night.Rows.First(row => row.Seconds >= 17).At, 3);
        LiveRunTests.AssertNoFasterThan(night, 24);
        LiveRunTests.AssertOnPlan(night, night.Rows.Where(row => row.Seconds > 19));
    }

    [Fact]
    public void A_desk_that_vanishes_and_returns_is_no_hand_and_is_glided_back()
    {
        var night = Started();
        night.At(10_000, () => night.IsThere = false)
            .At(16_000, () =>
            {
                night.IsThere = true;
                night.StartDeskAnew();
            })
            .RunFor(22_000);
        Assert.All(night.Plan.Sources, source => Assert.Equal([Holder.Planned], night.Holders(source.Source.Name).Select(held => held.Holder)));
        LiveRunTests.AssertOnPlan(night, night.Rows.Where(row => row.Seconds > 20));
        var law = night.Map.Fader.Law;
        // From shut to -10 takes more than two seconds at 24 dB/s, and the desk is heard out first.
        Assert.True(night.Rows.First(row => row.Seconds > 16.2).Picture.Desks[0].Gain is null);
        Assert.InRange(night.Rows.First(row => row.Seconds > 17.3).Picture.Desks[0].Gain!.Value.Value, -40, -30);
        Assert.Equal(law.Sent(Decibels.Of(-10)), law.Sent(night.Rows[^1].Picture.Desks[0].Gain));
    }

    [Fact]
    public void A_wire_that_closes_and_opens_is_told_and_sends_all_anew()
    {
        var night = Started().At(8000, RunEvent.Wire(0, false)).At(9000, RunEvent.Wire(0, true)).RunFor(10_000);
        Assert.All(night.Rows.Where(row => row.Seconds is >= 8 and < 9.3), row => Assert.Empty(row.Sent));
        Assert.Equal([1, 2, 3], night.Rows.First(row => row.Seconds >= 9.3).Sent.Select(value => value.Strip));
        Assert.Equal(["gone", "there"], night.Log.Where(entry => entry.Kind == LogKind.Desk).Select(entry => entry.Text));
    }

    [Fact]
    public void A_feed_that_falls_silent_fades_and_returns_gently()
    {
        var night = Started();
        night.At(8000, () => night.Desk.Feed(1, null)).At(14_000, () => night.Desk.Feed(1, Decibels.Of(-18))).RunFor(20_000);
        Assert.Equal([LogKind.Drop, LogKind.Up, LogKind.Planned], night.Log.Where(entry => entry.Index == 0).Select(entry => entry.Kind));
        Assert.Equal("silent", night.Log.First(entry => entry.Kind == LogKind.Drop).Text);
        var drop = night.Log.First(entry => entry.Kind == LogKind.Drop).When.TotalSeconds;
        Assert.InRange(drop, 9, 9.2);
        // Where the meter is after the fader, it fades only so far that a feed that is back is still seen.
        Assert.Equal(-40, night.Rows.First(row => row.Seconds > 12).Picture.Sources[0].Gain!.Value.Value, 3);
        Assert.InRange(night.Log.First(entry => entry.Kind == LogKind.Up).When.TotalSeconds, 15, 15.2);
        Assert.Equal(-10, night.Rows[^1].Picture.Sources[0].Gain!.Value.Value, 6);
        LiveRunTests.AssertNoFasterThan(night, 24);
    }

    [Fact]
    public void A_burst_of_noise_fades_too()
    {
        var night = Started();
        night.At(12_000, () => night.Desk.Feed(1, Decibels.Of(0))).RunFor(14_000);
        Assert.Equal(["noise"], night.Log.Where(entry => entry.Kind == LogKind.Drop).Select(entry => entry.Text));
    }

    [Fact]
    public void A_site_that_holds_when_its_link_is_gone_stands_still()
    {
        var night = Started(Pieces.Three(onDrop: new Planning.OnDrop(false, Seconds.Zero)));
        night.At(13_000, RunEvent.Link(1, false)).At(15_000, RunEvent.Link(1, true)).RunFor(19_000);
        var still = night.Rows.Where(row => row.Seconds is > 13.1 and < 14.9).Select(row => row.Picture.Sources[1].Gain).Distinct();
        Assert.Single(still);
        LiveRunTests.AssertOnPlan(night, night.Rows.Where(row => row.Seconds > 17.5));
    }

    [Fact]
    public void A_link_that_drops_never_fights_a_hand()
    {
        var night = Started().At(6000, RunEvent.Take(0, Decibels.Of(-5))).At(8000, RunEvent.Link(0, false)).At(10_000, RunEvent.Link(0, true)).RunFor(12_000);
        Assert.All(night.Rows.Where(row => row.Seconds > 6.1), row => Assert.Equal(-5, row.Picture.Sources[0].Gain!.Value.Value, 9));
        // Handed back while it is gone, it fades as any other.
        night = Started().At(6000, RunEvent.Take(0, Decibels.Of(-5))).At(8000, RunEvent.Link(0, false)).At(9000, RunEvent.Back(0)).RunFor(13_000);
        Assert.Null(night.Rows[^1].Picture.Sources[0].Gain);
    }

    // Found silent by its meter, then told that it is there: it is there, for the view as for the fader.
    [Fact]
    public void A_feed_that_is_told_to_be_back_is_back()
    {
        var night = Started();
        night.At(8000, () => night.Desk.Feed(1, null)).At(11_000, RunEvent.Link(0, true)).RunFor(11_100);
        Assert.Equal(DropCause.Silent, night.Rows.First(row => row.Seconds > 10.9).Picture.Sources[0].Gone);
        Assert.Null(night.Rows[^1].Picture.Sources[0].Gone);
    }

    [Fact]
    public void More_than_the_inbox_holds_is_refused_and_counted()
    {
        var run = new LiveRun(Pieces.Three(), new OwnClick(), []);
        for (var i = 0; i < 20_000; i++) run.Post(RunEvent.HoldAll);
        Assert.Equal(20_000 - 16_384, run.Refused);
        run.Tick(TimeSpan.Zero);
        Assert.True(run.Post(RunEvent.HoldAll));
    }

    private static VirtualNight Started(LivePlan? plan = null) => new VirtualNight(plan ?? Pieces.Three()).At(0, RunEvent.Arm).At(3000, RunEvent.Start());
}
