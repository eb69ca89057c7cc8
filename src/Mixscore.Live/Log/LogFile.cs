namespace Mixscore.Live;

/// <summary>Where the lines of a log go.</summary>
public interface ILogFile : IDisposable
{
    /// <summary>Adds whole lines at the end: all of them or, when it throws, none that counts.</summary>
    /// <exception cref="IOException">The disk refuses.</exception>
    void Append(ReadOnlySpan<byte> lines);
}

/// <summary>A log on disk. What is appended is out of the program's hands at once: it stays when the program is killed.</summary>
public sealed class LogFile : ILogFile
{
    private const string Ending = ".log.jsonl";
    private readonly FileStream _stream;

    private LogFile(FileStream stream) => _stream = stream;

    /// <summary>The file.</summary>
    public string Path => _stream.Name;

    /// <summary>Begins a log in a folder, which is made if need be; its name is the date.</summary>
    /// <exception cref="IOException">The folder cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">The folder may not be written to.</exception>
    public static LogFile Begin(string folder, DateTimeOffset date)
    {
        Directory.CreateDirectory(folder);
        var name = date.ToString("yyyy-MM-dd'T'HH-mm-ss", System.Globalization.CultureInfo.InvariantCulture);
        // Two runs begun within a second are two logs.
        for (var i = 0; ; i++)
        {
            var path = System.IO.Path.Combine(folder, $"{name}{(i == 0 ? "" : $"-{i + 1}")}{Ending}");
            if (!File.Exists(path)) return new LogFile(new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.ReadWrite, 1));
        }
    }

    /// <summary>Goes on with a log. A last line that was cut is ended, so that the next is whole.</summary>
    /// <exception cref="IOException">It cannot be written to.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be written to.</exception>
    public static LogFile GoOn(string path)
    {
        var stream = new FileStream(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite, 1);
        if (stream.Length > 0)
        {
            stream.Seek(-1, SeekOrigin.End);
            if (stream.ReadByte() != '\n') stream.WriteByte((byte)'\n');
        }
        stream.Seek(0, SeekOrigin.End);
        return new LogFile(stream);
    }

    /// <summary>The newest log of a folder; <c>null</c> for none.</summary>
    public static string? Newest(string folder) => NewestFirst(folder).FirstOrDefault();

    /// <summary>The logs of folders by their dates, which are their names, the newest first; of two copies of a log the one written to last.</summary>
    internal static IEnumerable<string> NewestFirst(params IEnumerable<string> folders) =>
        folders.Where(Directory.Exists).SelectMany(folder => Directory.GetFiles(folder, "*" + Ending))
            .OrderByDescending(path => System.IO.Path.GetFileName(path)[..^Ending.Length], StringComparer.Ordinal).ThenByDescending(File.GetLastWriteTimeUtc);

    /// <inheritdoc/>
    public void Append(ReadOnlySpan<byte> lines)
    {
        var end = _stream.Length;
        try
        {
            _stream.Seek(end, SeekOrigin.Begin);
            _stream.Write(lines);
            _stream.Flush();
        }
        catch (IOException)
        {
            // Half a line would make the next one unreadable.
            try
            {
                _stream.SetLength(end);
            }
            catch (IOException)
            {
                // The disk is gone altogether.
            }
            throw;
        }
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();
}
