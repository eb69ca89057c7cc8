namespace Mixscore.Tests;

/// <summary>The checkout that the tests run in.</summary>
internal static class Repository
{
    /// <summary>The folder that holds the solution.</summary>
    internal static string Root { get; } = FindRoot();

    internal static string PathOf(params string[] parts) => Path.Combine([Root, .. parts]);

    private static string FindRoot()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
            if (File.Exists(Path.Combine(folder.FullName, "Mixscore.sln"))) return folder.FullName;
        throw new DirectoryNotFoundException("no Mixscore.sln above " + AppContext.BaseDirectory);
    }
}
