using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Log;

/// <summary>Sixteen bars of four quarters, two seconds each; the voice rests at −10. What is said by the run's own log.</summary>
public sealed class NightHandsTests
{
    //  bar     1    2    3    4    5
    //          |----|-taken---|back|
    [Fact]
    public void A_hand_lies_over_the_quarters_that_it_stood_on()
    {
        var night = Played(12_000, Start, (2000, RunEvent.Take(0, Decibels.Of(-4))), (6000, RunEvent.Back(0)));
        var stretch = Assert.Single(Voice(night).Stretches);
        Assert.Equal((HandKind.Hand, Decibels.Of(-4)), (stretch.Kind, stretch.Gain));
        Assert.Equal((4, 12), (Math.Round(stretch.From, 1), Math.Round(stretch.To, 1)));
        Assert.Equal(0, Assert.Single(night.Played).From, 0.1);
    }

    // The link's delay: what is done at 2 s concerns what was played 0.5 s before.
    [Fact]
    public void A_source_that_is_late_is_meant_where_it_was_played()
    {
        var stretch = Assert.Single(Voice(Played(12_000, Pieces.Three(delayMs: 500), Start, (2000, RunEvent.Take(0, Decibels.Of(-4))), (6000, RunEvent.Back(0)))).Stretches);
        Assert.Equal((3, 11), (Math.Round(stretch.From, 1), Math.Round(stretch.To, 1)));
    }

    //  bar     1    2    2    2    3       the bar is played three times; the last time counts
    [Fact]
    public void Of_a_bar_that_is_played_over_and_over_the_last_time_counts()
    {
        var night = Played(12_000, Start, (2500, RunEvent.Stay()), (4200, RunEvent.Take(0, Decibels.Of(-4))), (6200, RunEvent.Take(0, Decibels.Of(-6))), (6500, RunEvent.Release), (8500, RunEvent.Back(0)));
        var stretches = Voice(night).Stretches;
        Assert.Equal([-4, -6], stretches.Select(stretch => stretch.Gain!.Value.Value));
        Assert.Equal((4, 4.4), (Math.Round(stretches[0].From, 1), Math.Round(stretches[0].To, 1)), Near);
        Assert.Equal((4.4, 9), (Math.Round(stretches[1].From, 1), Math.Round(stretches[1].To, 1)), Near);
    }

    //  bar     1    2    9    10           a jump at the barline: bars 3 to 8 were not played
    [Fact]
    public void What_is_jumped_over_was_not_played()
    {
        var night = Played(8000, Start, (2500, RunEvent.Take(0, Decibels.Of(-4))), (3000, RunEvent.Jump(new Seconds(16))));
        Assert.Equal([(0, 8), (32, 38)], night.Played.Select(piece => (Math.Round(piece.From), Math.Round(piece.To))));
        Assert.Equal([(5, 8), (32, 38)], Voice(night).Stretches.Select(piece => (Math.Round(piece.From), Math.Round(piece.To))));
    }

    [Fact]
    public void Faders_that_are_held_with_all_are_no_hands_until_they_are_moved()
    {
        var stretches = Voice(Played(12_000, Start, (2000, RunEvent.HoldAll), (4000, RunEvent.Take(0, Decibels.Of(-4))), (6000, RunEvent.AllBack()))).Stretches;
        Assert.Equal([HandKind.HeldWithAll, HandKind.Hand], stretches.Select(stretch => stretch.Kind));
    }

    [Fact]
    public void The_rides_of_the_night_are_in_its_log()
    {
        var plan = Pieces.Three();
        var lines = new MemoryStream();
        new NightHead(new DateTimeOffset(2026, 11, 25, 20, 0, 0, TimeSpan.Zero), "n.mix.yaml", "k", "click", [], "", TimeSpan.Zero).Write(lines, LogKind.Begin, TimeSpan.Zero, plan with { Hall = "quay" });
        var head = LogLine.Read(System.Text.Encoding.UTF8.GetString(lines.ToArray()))!;
        var rides = NightRides.Read(head, plan.Timeline, Decibels.Of(-60));
        foreach (var source in plan.Sources) Assert.Equal(source.Ride.Vertices, rides[source.Source.Name].Vertices);
        Assert.Equal("quay", NightHands.Of(new Night("n", [head], []), plan, out _).Hall);
    }

    private static readonly (int, RunEvent) Start = (0, RunEvent.Start());

    private static readonly Comparer<(double, double)> Order = Comparer<(double A, double B)>.Create((x, y) => Math.Abs(x.A - y.A) < 0.21 && Math.Abs(x.B - y.B) < 0.21 ? 0 : 1);

    private static IEqualityComparer<(double, double)> Near => EqualityComparer<(double, double)>.Create((x, y) => Order.Compare(x, y) == 0, _ => 0);

    private static NightSource Voice(FoldNight night) => night.Sources.Single(source => source.Source == "north.voice");

    private static FoldNight Played(int milliseconds, params (int Ms, RunEvent Event)[] events) => Played(milliseconds, Pieces.Three(), events);

    private static FoldNight Played(int milliseconds, LivePlan plan, params (int Ms, RunEvent Event)[] events)
    {
        var night = new VirtualNight(plan);
        foreach (var (ms, posted) in events) night.At(ms, posted);
        night.RunFor(milliseconds);
        return NightHands.Of(new Night("n", [.. night.Log.Select(entry => LogLine.Of(entry, plan))], []), plan, out _);
    }
}
