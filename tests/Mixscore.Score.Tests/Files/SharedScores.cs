using System.Text.Json;

namespace Mixscore.Score.Tests;

/// <summary>Real scores that lie beside the repository, not in it, with a table of what a correct reader finds in them.</summary>
internal static class SharedScores
{
    private static readonly string? Folder = Find();
    private static readonly JsonElement? Table = Folder is null ? null : JsonDocument.Parse(File.ReadAllText(Path.Combine(Folder, "expected.json"))).RootElement;

    /// <summary>The names of the files in the table; one empty name where the folder is not there.</summary>
    internal static IEnumerable<string> Names => Table is { } table ? table.GetProperty("files").EnumerateObject().Select(file => file.Name) : [""];

    internal static string PathOf(string name) => Path.Combine(Folder!, name);

    internal static JsonElement Expected(string name)
    {
        Assert.SkipWhen(Folder is null || name.Length == 0, "the shared scores are not here: set MIXSCORE_SHARED, or lay shared/scores beside the repository");
        return Table!.Value.GetProperty("files").GetProperty(name);
    }

    private static string? Find()
    {
        if (Environment.GetEnvironmentVariable("MIXSCORE_SHARED") is { Length: > 0 } set) return Existing(Path.Combine(set, "scores"));
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (folder is not null && !File.Exists(Path.Combine(folder.FullName, "Mixscore.sln"))) folder = folder.Parent;
        return folder is null ? null : Existing(Path.Combine(folder.FullName, "..", "shared", "scores")) ?? Existing(Path.Combine(folder.FullName, "shared", "scores"));
    }

    private static string? Existing(string folder) => File.Exists(Path.Combine(folder, "expected.json")) ? folder : null;
}
