using System.Globalization;

namespace Mixscore.Live;

/// <summary>A log in words, as one would tell it.</summary>
public static class NightStory
{
    /// <summary>What a line tells; <c>null</c> for one that tells nothing to a person, such as where the piece is.</summary>
    public static string? Tell(LogRecord line) => line.Kind switch
    {
        LogKind.Begin => "the run was begun",
        LogKind.Resume => "the run was taken up again",
        LogKind.End => "the run was ended",
        LogKind.Start => "started",
        LogKind.Stop => "stopped",
        LogKind.Stay => line.Text == "still" ? "stands still" : "stays on the bar",
        LogKind.Release => "goes on",
        LogKind.Jump => "jumps at the barline",
        LogKind.Clock => $"clock {line.Text}",
        LogKind.Take => $"{line.Source} taken{(line.Text == "desk" ? " on the desk" : "")} at {Gain(line)}",
        LogKind.Hand => $"{line.Source} moved to {Gain(line)}",
        LogKind.Back => $"{line.Source} handed back",
        LogKind.Planned => $"{line.Source} on the plan again at {Gain(line)}",
        LogKind.Offset => $"{line.Source} {Signed(line)} from now on",
        LogKind.HoldAll => "all held",
        LogKind.AllBack => "all handed back",
        LogKind.Arm => "armed",
        LogKind.Disarm => "disarmed",
        LogKind.Drop => line.Text switch { "noise" => $"{line.Source} is noise", "told" => $"{line.Source} is gone, as told", _ => $"{line.Source} is silent" },
        LogKind.Up => $"{line.Source} is back",
        LogKind.Desk => $"desk {line.Desk} is {line.Text}",
        LogKind.Late => string.Create(CultureInfo.InvariantCulture, $"a tick came {line.Value * 1000:0} ms late"),
        LogKind.Mark => $"mark: {line.Text}",
        LogKind.Trouble => line.Text,
        LogKind.Spare => line.Text switch { "performs" => "takes over from the run that it followed", "follows" => "follows another run, as its spare", _ => "a spare is there" },
        _ => null,
    };

    /// <summary>The whole log, grouped by bar; where one hand moved a source several times in a row only where it ended is told.</summary>
    /// <returns>Bar and what happened in it, in the order of the night; the bar is empty before the piece.</returns>
    public static IReadOnlyList<(string Bar, IReadOnlyList<string> Told)> ByBar(Night night)
    {
        var told = new List<(string Bar, List<string> Told)>();
        for (var i = 0; i < night.Lines.Count; i++)
        {
            var line = night.Lines[i];
            if (line.Kind == LogKind.Hand && IsMovedOn(night.Lines, i)) continue;
            if (Tell(line) is not { } words) continue;
            var bar = line.At is { } at ? at.Split(':')[0] : "";
            if (told.Count == 0 || told[^1].Bar != bar) told.Add((bar, []));
            told[^1].Told.Add(Beat(line.At) is { } beat ? $"beat {beat}: {words}" : words);
        }
        return [.. told.Select(group => (group.Bar, (IReadOnlyList<string>)group.Told))];
    }

    /// <summary>What the night amounts to.</summary>
    public static NightFigures Figures(Night night) => new(
        night.Lines.Count(line => line.Kind == LogKind.Late),
        night.Lines.Where(line => line.Kind == LogKind.Late).Select(line => line.Value ?? 0).DefaultIfEmpty(0).Max(),
        night.Lines.Count(line => line.Kind == LogKind.Clock && line.Text == Words.Of(ClockState.Held)),
        night.Lines.Count(line => line.Kind == LogKind.Drop),
        Taken(night));

    // Who holds all takes none by itself.
    private static Dictionary<string, int> Taken(Night night)
    {
        var held = night.Lines.Where(line => line.Kind == LogKind.HoldAll).Select(line => line.T).ToHashSet();
        return night.Lines.Where(line => line.Kind == LogKind.Take && line.Source is not null && !held.Contains(line.T)).GroupBy(line => line.Source!)
            .OrderBy(group => group.Key, StringComparer.Ordinal).ToDictionary(group => group.Key, group => group.Count(), StringComparer.Ordinal);
    }

    private static bool IsMovedOn(IReadOnlyList<LogRecord> lines, int i)
    {
        for (var next = i + 1; next < lines.Count && lines[next].T - lines[i].T < TimeSpan.FromSeconds(1); next++)
            if (lines[next].Kind == LogKind.Hand && lines[next].Source == lines[i].Source) return true;
        return false;
    }

    private static string? Beat(string? at) => at is not null && at.Split(':') is [_, var beat] ? beat.Split('+')[0] : null;

    private static string Gain(LogRecord line) => line.Gain is { } gain ? $"{gain}" : "off";

    private static string Signed(LogRecord line) => line.Gain is { Value: >= 0 } gain ? $"+{gain}" : $"{line.Gain}";
}

/// <summary>What a night amounts to.</summary>
/// <param name="LateTicks">Ticks that came late.</param>
/// <param name="LatestTick">The latest, in seconds.</param>
/// <param name="ClockHeld">How often the clock was gone for so long that the place was held.</param>
/// <param name="Drops">How often a feed was gone.</param>
/// <param name="Hands">How often each source was taken by itself.</param>
public sealed record NightFigures(int LateTicks, double LatestTick, int ClockHeld, int Drops, IReadOnlyDictionary<string, int> Hands);
