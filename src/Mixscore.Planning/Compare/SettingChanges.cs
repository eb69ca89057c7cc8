using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>What two plans say once and differently: of the whole, of sites, of sources, and of the time that bars take.</summary>
internal static class SettingChanges
{
    /// <summary>Bars whose lengths in seconds differ by less are the same.</summary>
    private const double SameSeconds = 1e-3;

    internal static IEnumerable<SettingChange> Of(PlanOnScore before, PlanOnScore after, SharedBars bars) =>
        [.. Between("plan", OfPlan(before), OfPlan(after)),
         .. Named(before.Plan.Sites, after.Plan.Sites, site => site.Name, OfSite, OfSite),
         .. Named(before.Plan.Sources, after.Plan.Sources, source => source.Name, source => OfSource(source, before), source => OfSource(source, after)),
         .. Bars(bars), .. Tempo(before.Timeline, after.Timeline, bars)];

    private static IEnumerable<SettingChange> Named<T>(IReadOnlyList<T> before, IReadOnlyList<T> after, Func<T, string> name, Func<T, IEnumerable<(string, string)>> said, Func<T, IEnumerable<(string, string)>> says)
    {
        var was = before.ToDictionary(name, StringComparer.Ordinal);
        foreach (var one in after)
        {
            if (!was.Remove(name(one), out var old)) yield return new SettingChange(name(one), "", "", "new");
            else foreach (var change in Between(name(one), said(old), says(one))) yield return change;
        }
        foreach (var gone in was.Keys) yield return new SettingChange(gone, "", "", "gone");
    }

    private static IEnumerable<SettingChange> Between(string of, IEnumerable<(string Key, string Value)> before, IEnumerable<(string Key, string Value)> after) =>
        before.Zip(after).Where(pair => pair.First.Value != pair.Second.Value).Select(pair => new SettingChange(of, pair.First.Key, pair.First.Value, pair.Second.Value));

    private static IEnumerable<(string, string)> OfPlan(PlanOnScore onScore)
    {
        var (plan, limits) = (onScore.Plan, onScore.Plan.Limits);
        yield return ("title", plan.Title);
        yield return ("reference", $"{plan.Reference}");
        yield return ("repeats", plan.WithRepeats ? "yes" : "no");
        yield return ("grid", $"{plan.Grid}".ToLowerInvariant());
        yield return ("hall", plan.Hall.Name ?? "");
        yield return ("limits: fader", $"{Number(limits.Bottom.Value)} .. {Signed(limits.Top)} dB");
        yield return ("limits: speed", $"{Number(limits.Speed)} dB/s");
        yield return ("limits: hand", $"{Number(limits.Hand)} dB/s");
        yield return ("limits: true-peak", $"{Number(limits.TruePeak.Value)} dBTP");
        yield return ("limits: loudness", limits.Loudness?.ToString() ?? "");
        yield return ("lead", string.Join(", ", onScore.Leads.Select(lead => $"{onScore.Timeline.PositionAt(lead.From)}: {lead.Source ?? "the loudest"}")));
        foreach (var name in DynamicsTable.Ours.Names) yield return ($"dynamics: {name}", plan.Dynamics[name] is { } level ? Number(level.Value) : "");
    }

    private static IEnumerable<(string, string)> OfSite(Site site)
    {
        yield return ("link: delay", Milliseconds(site.Link.Delay));
        yield return ("link: on-drop", site.Link.OnDrop.Fades ? $"fade {Milliseconds(site.Link.OnDrop.Over)}" : "hold");
        yield return ("link: picture", site.Link.Picture is { } picture ? Milliseconds(picture) : "");
    }

    private static IEnumerable<(string, string)> OfSource(Source source, PlanOnScore onScore)
    {
        yield return ("role", $"{source.Role}".ToLowerInvariant());
        yield return ("site", source.Site.Name);
        yield return ("stem", source.Stem);
        yield return ("start", $"{Number(source.Start.Value)} s");
        yield return ("channel", $"{source.Channel}");
        yield return ("strip", $"{source.Strip}");
        yield return ("within", $"{Number(source.Within.Value)} LU");
        yield return ("offset", $"{Signed(source.Offset)} dB");
        yield return ("offset in the hall", $"{Signed(source.HallOffset)} dB");
        yield return ("window", $"{Number(source.Window.Value)} s");
        yield return ("grid", $"{source.Grid}".ToLowerInvariant());
        yield return ("part", $"{source.Part}{(source.Staff is { } staff ? $", staff {staff}" : "")}");
        yield return ("pins", string.Join(", ", onScore[source.Name].Pins.Select(pin => $"{onScore.Timeline.PositionAt(pin.From)}{(pin.To > pin.From ? $"..{onScore.Timeline.PositionAt(pin.To)}" : "")}: {Signed(pin.Start)}{(pin.End != pin.Start ? $" > {Signed(pin.End)}" : "")} dB")));
    }

    private static IEnumerable<SettingChange> Bars(SharedBars bars)
    {
        if (bars.Gone.Count > 0) yield return new SettingChange("plan", "bars", string.Join(", ", bars.Gone), "");
        if (bars.New.Count > 0) yield return new SettingChange("plan", "bars", "", string.Join(", ", bars.New));
    }

    private static IEnumerable<SettingChange> Tempo(Timeline before, Timeline after, SharedBars bars)
    {
        var (first, last, was, becomes) = ((PlayedBar?)null, (PlayedBar?)null, 0.0, 0.0);
        foreach (var pair in bars.Pairs)
        {
            var (old, young) = (Length(before, pair.Before), Length(after, pair.After));
            if (Math.Abs(old - young) < SameSeconds)
            {
                if (Told() is { } told) yield return told;
                first = null;
                continue;
            }
            if (first is null) (first, was, becomes) = (pair.After, 0, 0);
            (last, was, becomes) = (pair.After, was + old, becomes + young);
        }
        if (Told() is { } end) yield return end;

        SettingChange? Told() => first is null ? null
            : new SettingChange("plan", first == last ? $"tempo in {first}" : $"tempo in {first} to {last}", string.Create(CultureInfo.InvariantCulture, $"{was:0.0} s"), string.Create(CultureInfo.InvariantCulture, $"{becomes:0.0} s"));
    }

    private static double Length(Timeline timeline, PlayedBar bar) => (timeline.Tempo.SecondsAt(bar.End) - timeline.Tempo.SecondsAt(bar.Start)).Value;

    private static string Milliseconds(Seconds time) => $"{Number(time.Value * 1000)} ms";

    private static string Number(double value) => value.ToString("0.###", CultureInfo.InvariantCulture);

    private static string Signed(Decibels value) => value.Value.ToString("+0.###;-0.###;0", CultureInfo.InvariantCulture);
}
