using CsCheck;

namespace Mixscore.Live.Tests.Spare;

/// <summary>The law of two runs: whatever is cut, killed and joined again, in whatever order, they do not fight, no fader moves faster than
/// the plan allows, and once all is whole again one performs and the other is its spare.</summary>
public class SplitsTests
{
    // The same nights each time; with MIXSCORE_LONG many more, and others each time.
    [Fact]
    public void Two_runs_never_fight()
    {
        if (Environment.GetEnvironmentVariable("MIXSCORE_LONG") is not null) Gen.Int.Sample(night => Play(Cuts(night)), iter: 5_000);
        else for (var night = 0; night < 100; night++) Play(Cuts(night));
    }

    private static (int At, int What)[] Cuts(int night)
    {
        var chance = new Random(night);
        return [.. Enumerable.Range(0, chance.Next(1, 7)).Select(_ => (chance.Next(5_000, 20_001), chance.Next(8)))];
    }

    private static void Play((int At, int What)[] cuts)
    {
        var two = new TwoRuns(Pieces.Three()).At(0, TwoRuns.First, RunEvent.Arm).At(4_000, TwoRuns.First, RunEvent.Start());
        foreach (var (at, what) in cuts)
            two.At(at, () =>
            {
                switch (what)
                {
                    case 0: two.AreJoined = false; break;
                    case 1: two.Reaches[0] = false; break;
                    case 2: two.Reaches[1] = false; break;
                    case 3: two.Ends[0].Lives = false; break;
                    case 4: two.AreJoined = true; break;
                    case 5: two.Reaches[0] = two.Reaches[1] = true; break;
                    case 6: (two.AreJoined, two.Reaches[0]) = (false, false); break;
                    default: two.Ends[0].Lives = true; break;
                }
            });
        two.RunFor(20_100);
        two.AreJoined = two.Reaches[0] = two.Reaches[1] = two.Ends[0].Lives = true;
        two.RunFor(3_000);
        // What was moved while a cable to the desk was cut arrives all at once when it is whole again, and may be taken for a hand's move: no sender can know.
        var isDeskCut = cuts.Any(cut => cut.What is 1 or 2 or 6);
        Require(isDeskCut || two.Fastest(4, 23) <= 24 * 1.3, $"{two.Fastest(4, 23):0} dB/s");
        // The other's last datagrams are on their way while one takes over; that is no fight.
        var slots = two.Sent.GroupBy(sent => (int)(sent.When.TotalMilliseconds / 100)).Count(slot => slot.Select(sent => sent.By).Distinct().Count() > 1);
        Require(slots <= 4, $"both sent in {slots} tenths of a second");
        two.RunFor(1_000);
        Require(two.Ends.Count(end => end.Spare.Role == SpareRole.Performs) == 1, "not one performs");
        var performs = Array.FindIndex(two.Ends, end => end.Spare.Role == SpareRole.Performs);
        Require(two.Senders(23.1, 24.1) is var senders && senders.All(sender => sender == performs), "the spare sent");
        var picture = two.Ends[performs].Run.View.Look();
        for (var i = 0; i < 3; i++)
            Require(isDeskCut || Math.Abs((picture.Sources[i].Gain?.Value ?? -60) - (two.Desk.GainOf(i + 1)?.Value ?? -60)) < 0.6, $"source {i} stands at {two.Desk.GainOf(i + 1)} and should at {picture.Sources[i].Gain}");
    }

    private static void Require(bool holds, string what)
    {
        if (!holds) throw new InvalidOperationException(what);
    }
}
