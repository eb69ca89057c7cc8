namespace Mixscore.Score.Benchmarks;

/// <summary>Real scores that lie beside the repository, not in it.</summary>
internal static class SharedScores
{
    /// <summary>The score that takes longest to read, judged by one reading of each; <c>null</c> where there are none.</summary>
    internal static string? Largest()
    {
        if (Folder() is not { } folder) return null;
        string[] kinds = [".xml", ".musicxml", ".mxl", ".mid"];
        return Directory.GetFiles(folder).Where(file => kinds.Contains(Path.GetExtension(file)))
            .MaxBy(file => Timing.Median(1, () => ScoreFile.Read(file)));
    }

    private static string? Folder()
    {
        if (Environment.GetEnvironmentVariable("MIXSCORE_SHARED") is { Length: > 0 } set) return Existing(Path.Combine(set, "scores"));
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Mixscore.sln"))) folder = folder.Parent;
        return folder is null ? null : Existing(Path.Combine(folder.FullName, "..", "shared", "scores"));
    }

    private static string? Existing(string folder) => Directory.Exists(folder) ? folder : null;
}
