using System.Globalization;
using System.Text.Json;
using Mixscore.Planning;

namespace Mixscore.Outside.Tests;

/// <summary>A night of the demo, played by the program itself in real time with a desk to practise on, and folded.</summary>
public sealed class FoldTests(DemoRun demo)
{
    // From bar 43 on north.voice is too soft by ear: its fader is pulled up by 5 dB, let stand for three bars and let go. The
    // cello is taken by mistake for a quarter of a second. The fold should raise the voice there by about 5 LU, leave the cello alone, and
    // be content afterwards.
    [Fact]
    public void A_night_by_hand_becomes_the_marks_that_one_would_expect_by_listening()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        using var night = new DemoNight(demo);
        var ride = RidesFile.Read(Path.Combine(night.Folder, "out", "rides.json")).Single(source => source.Source == "north.voice").Ride;
        var onScore = PlanOnScore.Open(Path.Combine(night.Folder, "night-ferry.mix.yaml"));
        double SecondsAt(string bar)
        {
            Assert.True(onScore.Timeline.TryResolve(Score.Position.Parse(bar), out var place, out _));
            return onScore.Timeline.Tempo.SecondsAt(place).Value;
        }

        Assert.True(onScore.Timeline.TryResolve(Score.Position.Parse("43"), out var there, out _));
        var planned = ride.At(there.ToDouble() + 4)!.Value.Value;
        night.Send("/mixscore/start", "42");
        Assert.True(night.WaitFor(SecondsAt("43")));
        night.Send("/mixscore/take", "north.voice", (float)(planned + 5));
        Assert.True(night.WaitFor(SecondsAt("45")));
        night.Send("/mixscore/take", "south.cello", -30f);
        Assert.True(night.WaitFor(SecondsAt("45") + 0.25));
        night.Send("/mixscore/back", "south.cello");
        Assert.True(night.WaitFor(SecondsAt("46")));
        night.Send("/mixscore/back", "north.voice");
        Assert.True(night.WaitFor(SecondsAt("48")));
        var log = night.End();

        var plan = Path.Combine(night.Folder, "night-ferry.mix.yaml");
        var folded = JsonDocument.Parse(Fold(plan, log, "--json").Output).RootElement;
        var proposals = folded.GetProperty("proposals").EnumerateArray().Select(one => (Source: one.GetProperty("source").GetString()!, From: one.GetProperty("from").GetString()!, Becomes: one.GetProperty("becomes").GetString()!)).ToArray();
        Assert.NotEmpty(proposals);
        Assert.All(proposals, proposal => Assert.Equal("north.voice", proposal.Source));
        Assert.StartsWith("43", proposals[0].From, StringComparison.Ordinal);
        // The plan says -3 from bar 43 on.
        Assert.Equal(2, double.Parse(proposals[0].Becomes.Split(' ')[0], CultureInfo.InvariantCulture), 1.5);
        Assert.Contains(folded.GetProperty("leftOut").EnumerateArray(), left => left.GetProperty("source").GetString() == "south.cello");

        var before = File.ReadAllLines(plan);
        Fold(plan, log, "--accept-all");
        Assert.All(File.ReadAllLines(plan).Except(before), line => Assert.Contains("# by hand 20", line, StringComparison.Ordinal));
        Assert.Empty(JsonDocument.Parse(Fold(plan, log, "--json").Output).RootElement.GetProperty("proposals").EnumerateArray());
    }

    private static Outside.Ended Fold(string plan, string log, string option)
    {
        var ended = Outside.Mixscore("fold", plan, log, option);
        Assert.True(ended.Code == 0, ended.Error);
        return ended;
    }
}
