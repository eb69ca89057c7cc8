using Mixscore.Desk;
using Mixscore.Loudness;

namespace Mixscore.Live.Tests.Run;

public class HandsTests
{
    //  ms   0        4000       6000        8000
    //       |--plan---|--hand----|--back-----|--plan      four beats at 120 are two seconds
    [Fact]
    public void A_source_that_is_taken_goes_to_the_hand_and_comes_back_over_four_beats()
    {
        var night = Started().At(4000, RunEvent.Take(0, Decibels.Of(-4))).At(6000, RunEvent.Back(0)).RunFor(9000);
        Assert.Equal([Holder.Planned, Holder.InHand, Holder.Returning, Holder.Planned], night.Holders("north.voice").Select(held => held.Holder));
        Assert.Equal([0.0, 4.0, 6.0, 8.0], night.Holders("north.voice").Select(held => Math.Round(held.Seconds, 1)));
        Assert.Equal(-4, At(night, 4.2, 0), 6);
        // Half way back over time is half way in dB, and no step at either end.
        Assert.Equal(-7, At(night, 7, 0), 1);
        LiveRunTests.AssertNoFasterThan(night, 120);
    }

    // A hand reaches the wire within one tick, then follows at no more than 120 dB a second: 2.4 dB a tick.
    [Fact]
    public void A_hand_reaches_the_wire_within_a_tick()
    {
        var night = Started().At(4000, RunEvent.Take(0, Decibels.Of(0))).RunFor(4200);
        Assert.Equal(-7.6, At(night, 4.0, 0), 6);
        Assert.Equal(0, At(night, 4.08, 0), 6);
    }

    public static TheoryData<int, int> Desks => new() { { 5, 1024 }, { 40, 1024 }, { 120, 1024 }, { 400, 1024 }, { 40, 128 }, { 400, 128 } };

    // The desk's report of our own moves is not a hand, however late and coarse.
    [Theory, MemberData(nameof(Desks))]
    public void An_echo_is_not_a_hand(int late, int places)
    {
        var night = Started(new PracticeHabits { Late = TimeSpan.FromMilliseconds(late), Places = places }).RunFor(34_000);
        Assert.All(night.Plan.Sources, source => Assert.Equal([Holder.Planned], night.Holders(source.Source.Name).Select(held => held.Holder)));
    }

    [Theory, MemberData(nameof(Desks))]
    public void Nor_when_values_are_lost_or_come_out_of_order(int late, int places)
    {
        var night = Started(new PracticeHabits { Late = TimeSpan.FromMilliseconds(late), Places = places });
        (night.Loss, night.Jitter) = (0.1, TimeSpan.FromMilliseconds(60));
        night.RunFor(34_000);
        Assert.All(night.Plan.Sources, source => Assert.Equal([Holder.Planned], night.Holders(source.Source.Name).Select(held => held.Holder)));
        // And what was lost is sent anew: all faders end where they should.
        Assert.Equal(-10, night.Rows[^1].Desk[0]!.Value.Value, 0.7);
    }

    // While the horn's fader moves, a hand moves the voice's, and the desk reports all 400 ms late but the hand at once.
    [Theory, MemberData(nameof(Desks))]
    public void A_hand_on_the_desk_takes_its_source_and_no_other(int late, int places)
    {
        var night = Started(new PracticeHabits { Late = TimeSpan.FromMilliseconds(late), Places = places });
        night.At(13_000, () => night.Desk.Grab(1, Decibels.Of(-3), TimeSpan.FromSeconds(1), night.Now)).RunFor(18_000);
        var voice = night.Holders("north.voice");
        Assert.Equal([Holder.Planned, Holder.InHand], voice.Select(held => held.Holder));
        Assert.InRange(voice[1].Seconds, 13, 13.5);
        Assert.Equal(-3, At(night, 17.9, 0), 0.7);
        Assert.Equal([Holder.Planned], night.Holders("north.horn").Select(held => held.Holder));
        // What was on its way when the hand came, and nothing after.
        Assert.InRange(night.Desk.Withstood, 0, 2);
    }

    // A fader that the plan moves is taken by a hand that moves the other way; its late echoes do not move it back.
    [Theory, MemberData(nameof(Desks))]
    public void A_hand_takes_a_fader_that_moves(int late, int places)
    {
        var night = Started(new PracticeHabits { Late = TimeSpan.FromMilliseconds(late), Places = places });
        night.At(15_000, () => night.Desk.Grab(2, Decibels.Of(-30), TimeSpan.FromMilliseconds(500), night.Now)).RunFor(18_000);
        var horn = night.Holders("north.horn");
        Assert.Equal([Holder.Planned, Holder.InHand], horn.Select(held => held.Holder));
        Assert.InRange(horn[1].Seconds, 15, 16);
        Assert.Equal(-30, At(night, 17.9, 1), 1.0);
    }

    // The plan moves on while a hand keeps the fader where it is, on the plan's own way: the desk hears us, as its meters tell, but the
    // fader does not move.
    [Fact]
    public void A_hand_that_keeps_a_fader_still_is_found()
    {
        var night = Started().At(14_000, RunEvent.Stay(StayKind.Hold));
        night.At(13_900, () => night.Desk.Grab(2, night.Desk.GainOf(2), TimeSpan.Zero, night.Now)).At(14_400, RunEvent.Offset(1, Decibels.Of(4))).RunFor(18_000);
        Assert.Equal([Holder.Planned, Holder.InHand], night.Holders("north.horn").Select(held => held.Holder));
        Assert.Equal(night.Rows[^1].Desk[1]!.Value.Value, At(night, 17.9, 1), 0.7);
    }

    // A desk without meters that is silent while nothing moves, and speaks only when a hand moves a fader.
    [Fact]
    public void A_desk_that_was_silent_for_long_is_heard_at_once()
    {
        var desk = new RunDesk(Pieces.Osc, [1, 2, 3], _ => true);
        var run = new LiveRun(Pieces.Three(), new OwnClick(), [desk], new RunSettings { CountInBars = 0 });
        run.Post(RunEvent.Arm);
        for (var ms = 0; ms < 20_000; ms += 20) run.Tick(TimeSpan.FromMilliseconds(ms));
        run.Post(RunEvent.Desk(0, new StripValue(1, StripPart.Fader, 0.75)));
        run.Tick(TimeSpan.FromMilliseconds(20_000));
        Assert.Equal((Holder.InHand, 0), (run.View.Look().Sources[0].Holder, run.View.Look().Sources[0].HandDesk));
    }

    [Fact]
    public void A_hand_on_the_desk_comes_back_without_a_step()
    {
        var night = Started();
        night.At(6000, () => night.Desk.Grab(1, Decibels.Of(-2), TimeSpan.FromMilliseconds(300), night.Now)).At(8000, () => night.Desk.Release(1)).At(9000, RunEvent.Back(0)).RunFor(13_000);
        Assert.Equal([Holder.Planned, Holder.InHand, Holder.Returning, Holder.Planned], night.Holders("north.voice").Select(held => held.Holder));
        var way = night.Rows.Where(row => row.Seconds > 8.5).Select(row => row.Desk[0]!.Value.Value).ToArray();
        for (var i = 1; i < way.Length; i++) Assert.InRange(way[i] - way[i - 1], -0.4, 0.2);
        Assert.Equal(-10, way[^1], 1);
    }

    [Fact]
    public void An_offset_is_added_to_the_plan_and_stays_through_a_hand()
    {
        var night = Started().At(4000, RunEvent.Offset(0, Decibels.Of(3))).At(6000, RunEvent.Take(0, Decibels.Of(-20))).At(8000, RunEvent.Back(0)).RunFor(12_000);
        Assert.Equal(-7, At(night, 5, 0), 6);
        Assert.Equal(-20, At(night, 7, 0), 6);
        Assert.Equal(-7, At(night, 11, 0), 6);
        // A source that the plan keeps off is not opened by an offset.
        Assert.Null(Started().At(3000, RunEvent.Offset(2, Decibels.Of(6))).RunFor(5000).Rows[^1].Picture.Sources[2].Gain);
    }

    [Fact]
    public void Hold_all_freezes_every_fader_and_all_back_returns_them()
    {
        var night = Started().At(13_000, RunEvent.HoldAll).At(17_000, RunEvent.AllBack()).RunFor(24_000);
        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(At(night, 13.1, i), At(night, 16.9, i), 9);
            Assert.Equal([Holder.Planned, Holder.InHand, Holder.Returning, Holder.Planned], night.Holders(night.Plan.Sources[i].Source.Name).Select(held => held.Holder));
        }
        LiveRunTests.AssertOnPlan(night, night.Rows.Where(row => row.Seconds > 19.5));
    }

    [Fact]
    public void Of_two_hands_the_last_counts()
    {
        var night = Started();
        night.At(4000, () => night.Desk.Grab(1, Decibels.Of(-3), TimeSpan.Zero, night.Now)).At(4500, () => night.Desk.Release(1)).At(5000, RunEvent.Take(0, Decibels.Of(-15))).RunFor(7000);
        Assert.Equal(-15, At(night, 6.9, 0), 6);
        Assert.Equal(-15, night.Rows[^1].Desk[0]!.Value.Value, 1);
    }

    [Fact]
    public void A_hand_and_the_plan_at_the_same_instant_are_both_obeyed()
    {
        // The engine opens with bar 3, at 7 s here; it is taken with the same tick.
        var night = Started().At(7000, RunEvent.Take(2, Decibels.Of(-30))).RunFor(10_000);
        Assert.Equal(-30, At(night, 9.9, 2), 6);
        LiveRunTests.AssertNoFasterThan(night, 120);
    }

    // A controller without motors: it takes a source where it meets it, not where it happens to stand.
    [Fact]
    public void A_controllers_fader_takes_a_source_where_it_meets_it()
    {
        var map = Pieces.Osc;
        var run = new LiveRun(Pieces.Three(), new OwnClick(), [new RunDesk(map, [1, 2, 3], _ => true), new RunDesk(map, [1, 2, 3], _ => true, isController: true)], new RunSettings { CountInBars = 0 });
        run.Post(RunEvent.Arm);
        var tick = 0;
        for (; tick < 100; tick++) run.Tick(TimeSpan.FromMilliseconds(20 * tick));
        // The voice stands at -10. From -40 up to -20 nothing happens; passing -10 takes it.
        foreach (var db in new double[] { -40, -30, -20 }) Move(db);
        Assert.Equal(Holder.Planned, run.View.Look().Sources[0].Holder);
        Move(-6);
        Assert.Equal((Holder.InHand, 1), (run.View.Look().Sources[0].Holder, run.View.Look().Sources[0].HandDesk));
        Move(-4);
        for (var end = tick + 50; tick < end; tick++) run.Tick(TimeSpan.FromMilliseconds(20 * tick));
        Assert.Equal(-4, run.View.Look().Sources[0].Gain!.Value.Value, 3);
        // The desk follows the controller.
        Assert.Equal(-4, run.View.Look().Desks[0].Gain!.Value.Value, 3);
        run.Post(RunEvent.Back(0, 0));
        for (var end = tick + 50; tick < end; tick++) run.Tick(TimeSpan.FromMilliseconds(20 * tick));
        Assert.Equal((Holder.Planned, -10), (run.View.Look().Sources[0].Holder, Math.Round(run.View.Look().Sources[0].Gain!.Value.Value, 6)));

        void Move(double db)
        {
            run.Post(RunEvent.Desk(1, new StripValue(1, StripPart.Fader, map.Fader.Law.Sent(Decibels.Of(db)))));
            run.Tick(TimeSpan.FromMilliseconds(20 * tick++));
        }
    }

    [Fact]
    public void Words_mean_sources_sites_roles_and_all()
    {
        var plan = Pieces.Three();
        Assert.Equal([1], plan.Find("north.horn"));
        Assert.Equal([0, 1], plan.Find("north"));
        Assert.Equal([2], plan.Find("ambient"));
        Assert.Equal([0, 1, 2], plan.Find("all"));
        Assert.Empty(plan.Find("west"));
    }

    private static VirtualNight Started(PracticeHabits? habits = null) =>
        new VirtualNight(Pieces.Three(), habits: habits).At(0, RunEvent.Arm).At(3000, RunEvent.Start());

    private static double At(VirtualNight night, double seconds, int source) =>
        night.Rows.First(row => row.Seconds >= seconds - 1e-9).Picture.Sources[source].Gain?.Value ?? double.NaN;
}
