using System.Text.Json;

namespace Mixscore.Outside.Tests;

/// <summary>What the program in <c>verovio/</c> says of a score: its bars as played, repeats expanded.</summary>
internal sealed record Timemap(IReadOnlyList<TimemapBar> Bars, double Quarters, double Milliseconds)
{
    private static readonly JsonSerializerOptions Web = new(JsonSerializerDefaults.Web);

    /// <summary>Reads scores, in the order in which they are named.</summary>
    internal static IReadOnlyList<Timemap> Of(IEnumerable<string> files)
    {
        var ended = Outside.Run("node", [Path.Combine(Repository(), "tests", "Mixscore.Outside.Tests", "verovio", "timemap.mjs"), .. files]);
        Assert.True(ended.Code == 0, ended.Error);
        return [.. ended.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => JsonSerializer.Deserialize<Timemap>(line, Web)!)];
    }

    internal static string Repository()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Mixscore.sln"))) folder = folder.Parent;
        return folder.FullName;
    }
}

/// <summary>One bar as played.</summary>
/// <param name="Bar">Its printed number.</param>
/// <param name="Written">Its place in the file, from 1; <c>null</c> where the program did not show it before expanding.</param>
/// <param name="Quarters">Where it begins.</param>
/// <param name="Milliseconds">When it begins, rounded to a whole one.</param>
internal sealed record TimemapBar(string Bar, int? Written, double Quarters, double Milliseconds);
