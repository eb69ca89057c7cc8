namespace Mixscore.Planning.Tests;

/// <summary>Scores that lie beside the repository and are no part of it.</summary>
internal static class SharedScores
{
    /// <summary>The folder of the repository.</summary>
    internal static string Root { get; } = FindRoot();

    /// <summary>The path of a score, or <c>null</c> where the folder is not there.</summary>
    internal static string? Find(string name)
    {
        var path = Path.Combine(Environment.GetEnvironmentVariable("MIXSCORE_SHARED") ?? Path.Combine(Root, "..", "shared"), "scores", name);
        return File.Exists(path) ? path : null;
    }

    private static string FindRoot()
    {
        var folder = AppContext.BaseDirectory;
        while (folder is not null && !File.Exists(Path.Combine(folder, "Mixscore.sln"))) folder = Path.GetDirectoryName(folder);
        return folder ?? throw new InvalidOperationException("the tests do not run inside the repository");
    }
}
