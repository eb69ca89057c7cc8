using System.Text.Json;
using Mixscore.Live;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>The logs of a project, by their names: a name that is not in the folder's list is not there, so no path reaches outside.</summary>
/// <param name="folder">The project's folder of logs.</param>
internal sealed class NightFiles(string folder)
{
    private const long LongestLog = 256L << 20;
    private const int MostListed = 200;

    /// <summary>The logs' names, the newest first.</summary>
    internal byte[] List() => JsonSerializer.SerializeToUtf8Bytes(Names().Take(MostListed));

    /// <summary>A log over the score.</summary>
    /// <returns><c>null</c> where there is none of that name, or it cannot be read.</returns>
    internal byte[]? Read(string name, PageProject project) => Open(name) is { } night ? Write(name, night, project) : null;

    /// <summary>A log.</summary>
    /// <returns><c>null</c> where there is none of that name, or it cannot be read.</returns>
    internal Night? Open(string name)
    {
        if (!Names().Contains(name, StringComparer.Ordinal) || new FileInfo(Path.Combine(folder, name)).Length > LongestLog) return null;
        try
        {
            return Night.Read(Path.Combine(folder, name));
        }
        catch (Exception problem) when (problem is InputException or IOException or UnauthorizedAccessException)
        {
            return null;
        }
    }

    private IEnumerable<string> Names() => Directory.Exists(folder)
        ? Directory.EnumerateFiles(folder, "*.log.jsonl").Select(path => Path.GetFileName(path)!).OrderDescending(StringComparer.Ordinal)
        : [];

    private static byte[] Write(string name, Night night, PageProject project)
    {
        var laid = NightOnScore.Of(night, project.Timeline, project.Plan.Sources.Select(source => source.Name));
        var figures = NightStory.Figures(night);
        return JsonSerializer.SerializeToUtf8Bytes(new
        {
            name,
            date = night.Head?.Date,
            rehearsal = night.Head?.IsRehearsal ?? false,
            clock = night.Head?.Clock,
            late = figures.LateTicks,
            drops = figures.Drops,
            sources = laid.Sources.Select(source => new
            {
                name = source.Name,
                hands = source.Hands.Select(hand => hand.Points.SelectMany(point => new double?[] { Math.Round(point.At, 4), point.Value is { } gain ? Math.Round(gain, 2) : null })),
                drops = source.Drops.Select(drop => new[] { Math.Round(drop.From, 4), Math.Round(drop.To, 4) }),
            }),
            notes = laid.Notes.Select(note => new { at = Math.Round(note.At, 4), text = note.Text }),
            story = NightStory.ByBar(night).Select(group => new { bar = group.Bar, told = group.Told }),
        });
    }
}
