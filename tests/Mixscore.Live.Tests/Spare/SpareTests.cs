using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Spare;

/// <summary>The rules for two runs, from the project's own definition: never two that fight, one too few for a moment at worst.</summary>
public class SpareTests
{
    // The piece begins at 4 s. Nothing moves up to 8 s; south.engine moves from then to 12 s, north.horn from 12 s to 28 s.
    private static TwoRuns Armed(Func<TwoRuns>? make = null) => (make?.Invoke() ?? new TwoRuns(Pieces.Three())).At(0, TwoRuns.First, RunEvent.Arm).At(4000, TwoRuns.First, RunEvent.Start());

    [Fact]
    public void A_spare_holds_the_same_state_and_sends_nothing()
    {
        var two = Armed()
            .At(5000, TwoRuns.First, RunEvent.Take(0, Decibels.Of(-3)), RunEvent.Offset(1, Decibels.Of(2)))
            .At(6000, TwoRuns.First, RunEvent.Link(2, isUp: false))
            .At(7000, () => { })
            .RunFor(14_000);
        var (first, second) = (two.Ends[0].Run.View.Look(), two.Ends[1].Run.View.Look());
        Assert.Equal([TwoRuns.First], two.Senders(0, 14));
        Assert.Equal(first.At.Value, second.At.Value, 0.03);
        Assert.True(second.IsArmed);
        for (var i = 0; i < 3; i++)
        {
            Assert.Equal(first.Sources[i].Holder, second.Sources[i].Holder);
            Assert.Equal(first.Sources[i].Offset, second.Sources[i].Offset);
            Assert.Equal(first.Sources[i].Gone, second.Sources[i].Gone);
            Assert.Equal(first.Sources[i].Gain?.Value ?? -60, second.Sources[i].Gain?.Value ?? -60, 0.1);
        }
    }

    // The run keeps what another needs only where there is another: the first that it says of itself must be as whole as all that follows.
    [Fact]
    public void The_first_that_is_told_is_whole()
    {
        var two = Armed().At(500, TwoRuns.First, RunEvent.Take(0, Decibels.Of(-3))).At(2000, () => { });
        two.Ends[1].Lives = false;
        two.RunFor(2000);
        Assert.Empty(two.Ends[0].Told);
        two.Ends[1].Lives = true;
        two.RunFor(1000);
        var first = two.Ends[0].Told.First(told => told.IsPerforming);
        Assert.Equal(3, first.Sources.Count);
        Assert.Equal((Holder.InHand, -3), (first.Sources[0].Holder, first.Sources[0].Gain?.Value));
        Assert.Equal(Holder.Planned, first.Sources[1].Holder);
    }

    // Killed at any instant while a fader moves: the spare sends half a second later, and no fader ever moves faster than the plan allows.
    [Theory]
    [InlineData(13_000, true, 0)]
    [InlineData(13_000, false, 0)]
    [InlineData(14_313, true, 0.1)]
    [InlineData(17_777, true, 0.3)]
    [InlineData(21_011, false, 0.1)]
    public void It_takes_over_without_a_step(int killed, bool withMeters, double loss)
    {
        var two = Armed(() => new TwoRuns(Pieces.Three(), withMeters: withMeters) { Loss = loss }).At(killed, () => { }).RunFor(killed);
        two.Ends[0].Lives = false;
        two.RunFor(8000);
        var taken = two.Sent.First(sent => sent.By == TwoRuns.Second && sent.When.TotalMilliseconds > killed);
        Assert.InRange((taken.When.TotalMilliseconds - killed), 240, 760);
        Assert.Equal(SpareRole.Performs, two.Ends[1].Spare.Role);
        // The reports of the desk come in its own places, a step of which counts within the tenth of a second.
        Assert.InRange(two.Fastest((killed / 1000.0) - 1, (killed / 1000.0) + 8), 0, 24 * 1.25);
        var (picture, last) = (two.Ends[1].Run.View.Look(), two.Faders[^1].Gains);
        for (var i = 0; i < 3; i++) Assert.Equal(picture.Sources[i].Gain?.Value ?? -60, last[i]?.Value ?? -60, 0.35);
        Assert.Equal((killed + 8000 - 4000) / 1000.0, picture.At.Value, 0.05);
    }

    [Fact]
    public void With_hands_and_offsets_as_they_were()
    {
        var two = Armed()
            .At(9000, TwoRuns.First, RunEvent.Take(0, Decibels.Of(-3)), RunEvent.Offset(1, Decibels.Of(2)))
            .At(13_000, () => { }).RunFor(13_000);
        two.Ends[0].Lives = false;
        two.RunFor(2000);
        var picture = two.Ends[1].Run.View.Look();
        Assert.Equal(Holder.InHand, picture.Sources[0].Holder);
        Assert.Equal(-3, two.Desk.GainOf(1)!.Value.Value, 0.2);
        Assert.Equal(2, picture.Sources[1].Offset.Value);
        Assert.Equal(picture.Sources[1].Gain!.Value.Value, two.Desk.GainOf(2)!.Value.Value, 0.35);
    }

    // While nothing is to be moved nobody can tell whether the other still moves it; the first move tells.
    [Fact]
    public void Where_nothing_moves_it_stands_in_and_sends_with_the_first_move()
    {
        var two = Armed().RunFor(5_000);
        two.Ends[0].Lives = false;
        two.RunFor(2_500);
        Assert.True(two.Ends[1].Spare.IsStandingIn);
        two.RunFor(4_000);
        Assert.Equal(SpareRole.Performs, two.Ends[1].Spare.Role);
        Assert.Equal(two.Ends[1].Run.View.Look().Sources[2].Gain!.Value.Value, two.Desk.GainOf(3)!.Value.Value, 0.35);
        Assert.InRange(two.Fastest(4.5, 11.5), 0, 24 * 1.25);
    }

    [Fact]
    public void An_order_to_one_that_stands_in_is_obeyed_at_once()
    {
        var two = Armed().RunFor(5_000);
        two.Ends[0].Lives = false;
        two.At(6_500, TwoRuns.Second, RunEvent.Take(0, Decibels.Of(-6))).RunFor(2_000);
        Assert.Equal(SpareRole.Performs, two.Ends[1].Spare.Role);
        Assert.Equal(-6, two.Desk.GainOf(1)!.Value.Value, 0.2);
    }

    [Fact]
    public void An_order_to_one_that_follows_is_refused_and_told()
    {
        var two = Armed().At(6_000, TwoRuns.Second, RunEvent.Take(0, Decibels.Of(-30))).RunFor(8_000);
        Assert.Equal(Holder.Planned, two.Ends[1].Run.View.Look().Sources[0].Holder);
        Assert.Contains(two.Ends[1].Log, entry => entry.Kind == LogKind.Trouble && entry.Text!.Contains("spare", StringComparison.Ordinal));
    }

    // Cut from each other only: the desk goes on doing what the plan wants, so the first is alive.
    [Fact]
    public void Cut_between_the_two_the_first_goes_on_alone()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        two.AreJoined = false;
        two.RunFor(12_000);
        Assert.Equal([TwoRuns.First], two.Senders(0, 25));
        two.AreJoined = true;
        two.RunFor(1_000);
        Assert.Equal(SpareRole.Follows, two.Ends[1].Spare.Role);
        Assert.False(two.Ends[1].Spare.IsStandingIn);
    }

    // The same where the cut comes before anything moves.
    [Fact]
    public void Cut_between_the_two_while_nothing_moves_the_first_goes_on_alone()
    {
        var two = Armed().RunFor(5_000);
        two.AreJoined = false;
        two.RunFor(16_000);
        Assert.Equal([TwoRuns.First], two.Senders(0, 21));
    }

    // A hand at the desk, while the two do not hear each other, is no reason to fight over it.
    [Fact]
    public void Cut_between_the_two_a_hand_at_the_desk_is_taken_note_of_by_both()
    {
        var two = Armed().RunFor(9_000);
        two.AreJoined = false;
        two.At(10_000, () => two.Desk.Grab(1, Decibels.Of(-4), TimeSpan.FromSeconds(1), two.Now))
            .At(11_500, () => two.Desk.Release(1))
            .RunFor(12_000);
        Assert.Equal([TwoRuns.First], two.Senders(0, 21));
        Assert.All(two.Ends, end => Assert.Equal(Holder.InHand, end.Run.View.Look().Sources[0].Holder));
        Assert.Equal(-4, two.Desk.GainOf(1)!.Value.Value, 0.2);
    }

    // The spare cut from everything does not know; it sends nothing.
    [Fact]
    public void Cut_off_itself_the_spare_sends_nothing()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        (two.AreJoined, two.Reaches[TwoRuns.Second]) = (false, false);
        two.RunFor(6_000);
        Assert.Equal([TwoRuns.First], two.Senders(0, 19));
        Assert.Equal(SpareRole.Follows, two.Ends[1].Spare.Role);
        Assert.False(two.Ends[1].Spare.IsStandingIn);
    }

    // The first cut from the desk but not from its spare: the spare says so and leaves it to the engineer.
    [Fact]
    public void The_first_cut_from_the_desk_is_told_and_the_engineer_may_take_over()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        two.Reaches[TwoRuns.First] = false;
        two.RunFor(3_000);
        Assert.Equal(SpareRole.Follows, two.Ends[1].Spare.Role);
        Assert.True(two.Ends[1].Spare.DeskSilent > TimeSpan.FromSeconds(2));
        two.At(16_100, TwoRuns.Second, RunEvent.TakeOver).RunFor(2_000);
        Assert.Equal([SpareRole.Follows, SpareRole.Performs], two.Ends.Select(end => end.Spare.Role));
        two.Reaches[TwoRuns.First] = true;
        two.RunFor(3_000);
        Assert.Equal([TwoRuns.Second], two.Senders(16.5, 21));
        Assert.InRange(two.Fastest(13, 21), 0, 24 * 1.25);
    }

    // The first cut from everything: the spare performs; the first, back on the network, listens, hears that, and is the spare.
    [Fact]
    public void The_first_cut_off_and_back_is_the_spare()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        (two.AreJoined, two.Reaches[TwoRuns.First]) = (false, false);
        two.RunFor(3_000);
        Assert.Equal(SpareRole.Performs, two.Ends[1].Spare.Role);
        (two.AreJoined, two.Reaches[TwoRuns.First]) = (true, true);
        two.RunFor(3_000);
        Assert.Equal([SpareRole.Follows, SpareRole.Performs], two.Ends.Select(end => end.Spare.Role));
        Assert.Equal([TwoRuns.Second], two.Senders(16, 19));
        Assert.InRange(two.Fastest(12.5, 19), 0, 24 * 1.25);
    }

    // The first stands still for three seconds, as a suspended machine does, and goes on as the spare.
    [Fact]
    public void The_first_suspended_and_back_is_the_spare()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        two.Ends[0].Lives = false;
        two.RunFor(3_000);
        two.Ends[0].Lives = true;
        two.RunFor(3_000);
        Assert.Equal([SpareRole.Follows, SpareRole.Performs], two.Ends.Select(end => end.Spare.Role));
        Assert.Equal([TwoRuns.Second], two.Senders(16, 19));
    }

    // Killed and begun anew by the same command, the first finds the other performing; and takes over from it in its turn.
    [Fact]
    public void Begun_anew_the_first_is_the_spare_and_takes_over_in_its_turn()
    {
        var two = Armed().At(13_000, () => { }).RunFor(13_000);
        two.Ends[0].Lives = false;
        two.RunFor(2_000);
        two.StartAnew(TwoRuns.First);
        two.RunFor(2_000);
        Assert.Equal([SpareRole.Follows, SpareRole.Performs], two.Ends.Select(end => end.Spare.Role));
        two.Ends[1].Lives = false;
        two.RunFor(2_000);
        Assert.Equal(SpareRole.Performs, two.Ends[0].Spare.Role);
        Assert.Equal([TwoRuns.First], two.Senders(18, 19));
        Assert.InRange(two.Fastest(12.5, 19), 0, 24 * 1.25);
        Assert.Equal(15, two.Ends[0].Run.View.Look().At.Value, 0.1);
    }

    // A desk that says nothing of its faders is no witness: the spare takes over when the first is silent and the desk is still heard.
    [Fact]
    public void A_desk_that_shows_only_meters_is_no_witness()
    {
        var two = Armed(() => new TwoRuns(Pieces.Three(), habits: new PracticeHabits { Late = TimeSpan.FromHours(1) })).RunFor(9_000);
        two.Ends[0].Lives = false;
        two.RunFor(600);
        Assert.Equal(SpareRole.Performs, two.Ends[1].Spare.Role);
        two.RunFor(6_000);
        // Two ticks' way of the first, after it last said where it was, nobody can know of.
        Assert.InRange(two.Fastest(8.5, 15), 0, (24 * 1.25) + (24 * 0.04 / 0.1));
    }

    // Not armed, nothing is sent by either.
    [Fact]
    public void Not_armed_nothing_is_sent_by_anybody()
    {
        var two = new TwoRuns(Pieces.Three()).At(100, TwoRuns.First, RunEvent.Start()).RunFor(3_000);
        two.Ends[0].Lives = false;
        two.RunFor(3_000);
        Assert.Empty(two.Sent);
    }

    // What stays, loops and jumps is the same with both, and goes on with the spare.
    [Fact]
    public void Staying_and_jumping_go_along()
    {
        var two = Armed().At(6_500, TwoRuns.First, RunEvent.Stay()).RunFor(11_000);
        Assert.Equal(two.Ends[0].Run.View.Look().At.Value, two.Ends[1].Run.View.Look().At.Value, 0.03);
        two.At(11_100, TwoRuns.First, RunEvent.Release, RunEvent.Jump(new Seconds(20))).RunFor(4_000);
        Assert.Equal(two.Ends[0].Run.View.Look().At.Value, two.Ends[1].Run.View.Look().At.Value, 0.03);
        two.At(15_100, TwoRuns.First, RunEvent.Stay(StayKind.Hold)).RunFor(1_000);
        two.Ends[0].Lives = false;
        two.RunFor(2_000);
        Assert.Equal(two.Ends[0].Run.View.Look().At.Value, two.Ends[1].Run.View.Look().At.Value, 0.03);
        Assert.Equal(StayKind.Hold, two.Ends[1].Run.View.Look().Stay);
    }

    // With a clock from outside that the spare does not hear itself, it is led by the first's.
    [Fact]
    public void Led_by_the_firsts_clock_where_it_hears_no_code()
    {
        var two = Armed(() => new TwoRuns(Pieces.Three(), clock: () => new ChaseClock()));
        for (var ms = 4_100; ms < 14_000; ms += 40)
        {
            var at = new Seconds((ms - 4_000) / 1000.0);
            two.At(ms, () => two.Ends[0].Run.Post(RunEvent.Clock(new ClockPoint(two.Ends[0].Now, at, ClockSignal.Moving))));
        }
        two.RunFor(13_000);
        Assert.Equal(two.Ends[0].Run.View.Look().At.Value, two.Ends[1].Run.View.Look().At.Value, 0.03);
        Assert.Equal(ClockState.Running, two.Ends[1].Run.View.Look().Clock.State);
    }

    // The spare's own log is the night's whole log: it ends in the state that the first was in.
    [Fact]
    public void The_spares_log_is_whole()
    {
        var two = Armed()
            .At(6_000, TwoRuns.First, RunEvent.Take(0, Decibels.Of(-3)), RunEvent.Offset(1, Decibels.Of(2)))
            .At(7_000, TwoRuns.First, RunEvent.Back(0))
            .At(7_500, TwoRuns.First, RunEvent.Take(2, null))
            .RunFor(13_000);
        foreach (var kind in new[] { LogKind.Arm, LogKind.Start, LogKind.Take, LogKind.Offset, LogKind.Back, LogKind.Planned })
            Assert.Equal(two.Ends[0].Log.Count(entry => entry.Kind == kind), two.Ends[1].Log.Count(entry => entry.Kind == kind));
    }
}
