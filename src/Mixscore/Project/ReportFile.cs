using Mixscore.Score;

namespace Mixscore.Project;

/// <summary>The file of a report that a person named.</summary>
internal static class ReportFile
{
    /// <exception cref="InputException">It would not be a page: nothing else is ever written over.</exception>
    internal static void Check(string? path)
    {
        if (path is not null && !path.EndsWith(".html", StringComparison.OrdinalIgnoreCase) && !path.EndsWith(".htm", StringComparison.OrdinalIgnoreCase))
            throw new InputException(new Fault("MX606", new Place("--report"), $"{path} would not be opened by a browser", "write a name that ends in .html"));
    }
}
