using System.Globalization;
using System.Text.RegularExpressions;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Outside.Tests;

/// <summary>
/// The evening that <c>examples/night-ferry.log.jsonl</c> holds: what the engineer's hands do over the whole demo, at the desk and
/// by OSC. The clarinet of bar 27 is pulled up on the desk, the voice of bar 43 by OSC; the engine of the south ferry is 3 dB down
/// all night; all faders are held once, a fader is taken by mistake, a link drops, and a note is left.
/// </summary>
internal sealed partial class ExampleNight(DemoNight night)
{
    private readonly PlanOnScore _plan = PlanOnScore.Open(Path.Combine(night.Folder, "night-ferry.mix.yaml"));
    private readonly Dictionary<string, Ride> _rides = RidesFile.Read(Path.Combine(night.Folder, "out", "rides.json")).ToDictionary(source => source.Source, source => source.Ride);

    /// <summary>Plays it, in real time, and gives its log.</summary>
    internal string Play()
    {
        night.Send("/mixscore/offset", "south.engine", -3f);
        night.Send("/mixscore/start", "0");
        Until("27");
        night.Desk(string.Create(CultureInfo.InvariantCulture, $"grab 5 {Planned("middle.clarinet", "27") + 4:0.00} over 0.2"));
        Until("29");
        night.Desk("release 5");
        night.Send("/mixscore/back", "middle.clarinet");
        Until("40");
        night.Send("/mixscore/hold");
        Until("41");
        night.Send("/mixscore/allback");
        Until("43");
        night.Send("/mixscore/take", "north.voice", (float)(Planned("north.voice", "43:3") + 5));
        Until("45");
        night.Send("/mixscore/take", "south.cello", -30f);
        Assert.True(night.WaitFor(SecondsAt("45") + 0.25));
        night.Send("/mixscore/back", "south.cello");
        Until("46");
        night.Send("/mixscore/back", "north.voice");
        Until("62");
        night.Send("/mixscore/link", "middle", 0);
        Until("63");
        night.Send("/mixscore/link", "middle", 1);
        Until("70");
        night.Send("/mixscore/mark", "the cello may come nearer here");
        Assert.True(night.WaitFor(_plan.Timeline.Duration.Value - 0.5));
        Thread.Sleep(1500);
        return night.End();
    }

    /// <summary>A log without what tells one machine from another: its start, its uptime, its day.</summary>
    internal static string Shared(string log)
    {
        log = Boot().Replace(Uptime().Replace(log, "\"uptime\":1"), "\"boot\":\"example\"");
        return Date().Replace(PlanKey().Replace(log, "\"planKey\":\"example\""), "\"date\":\"2026-11-25T20:00:00+01:00\"");
    }

    private void Until(string position) => Assert.True(night.WaitFor(SecondsAt(position)), position);

    private double Planned(string source, string position) => _rides[source].At(PlaceOf(position).ToDouble())!.Value.Value;

    private double SecondsAt(string position) => _plan.Timeline.Tempo.SecondsAt(PlaceOf(position)).Value;

    private Quarters PlaceOf(string position)
    {
        Assert.True(_plan.Timeline.TryResolve(Position.Parse(position), out var place, out _));
        return place;
    }

    [GeneratedRegex("\"boot\":\"[^\"]*\"")]
    private static partial Regex Boot();

    [GeneratedRegex("\"uptime\":[0-9.]+")]
    private static partial Regex Uptime();

    [GeneratedRegex("\"planKey\":\"[^\"]*\"")]
    private static partial Regex PlanKey();

    [GeneratedRegex("\"date\":\"[^\"]*\"")]
    private static partial Regex Date();
}
