using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>A log read back: every whole line in order, and how many were not.</summary>
/// <param name="Path">The file.</param>
/// <param name="Lines">The lines.</param>
/// <param name="Broken">The numbers of lines that are cut or none, from 1.</param>
public sealed record Night(string Path, IReadOnlyList<LogRecord> Lines, IReadOnlyList<int> Broken)
{
    /// <summary>What the last head says; <c>null</c> for a log without one.</summary>
    public NightHead? Head => Lines.Where(line => line.Kind is LogKind.Begin or LogKind.Resume).Select(NightHead.Of).LastOrDefault(head => head is not null);

    /// <summary>Since when the last head counts.</summary>
    public TimeSpan HeadAt => Lines.LastOrDefault(line => line.Kind is LogKind.Begin or LogKind.Resume)?.T ?? TimeSpan.Zero;

    /// <summary>Reads a log; <c>null</c> for one without a whole line.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    internal static Night? TryRead(string path)
    {
        try
        {
            return Read(path);
        }
        catch (InputException)
        {
            return null;
        }
    }

    /// <summary>Reads a log, also while it is being written.</summary>
    /// <exception cref="IOException">It cannot be read.</exception>
    /// <exception cref="InputException">Not one line of it is a log's.</exception>
    public static Night Read(string path)
    {
        var (lines, broken) = (new List<LogRecord>(), new List<int>());
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.ReadWrite | FileShare.Delete);
        using var reader = new StreamReader(stream);
        for (var number = 1; reader.ReadLine() is { } text; number++)
        {
            if (text.Length == 0) continue;
            if (LogLine.Read(text) is { } line) lines.Add(line);
            else broken.Add(number);
        }
        if (lines.Count == 0) throw new InputException(new Fault("MX401", new Place(path), "this is not a log of a run", "name a *.log.jsonl file from the project's log folder"));
        return new Night(path, lines, broken);
    }
}
