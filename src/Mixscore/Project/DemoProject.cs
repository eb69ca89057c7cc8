using Mixscore.Desk;
using Mixscore.Planning;

namespace Mixscore.Project;

/// <summary>The demo piece, carried inside the program so that it needs no checkout.</summary>
internal static class DemoProject
{
    internal const string Plan = "night-ferry.mix.yaml";

    internal const string Score = "night-ferry.musicxml";

    internal static IReadOnlyList<string> Maps { get; } = ["hall-osc.desk.yaml", "hall-midi.desk.yaml"];

    /// <summary>Lays the piece into a folder. What a person changed there since stays.</summary>
    internal static void LayOut(string folder)
    {
        foreach (var name in (string[])[Score, Plan, .. Maps])
        {
            var path = Path.Combine(folder, name);
            if (!File.Exists(path)) WholeFile.Write(path, Text(name));
        }
        WholeFile.Write(Path.Combine(folder, PlanSchema.FileName), PlanSchema.Text);
        WholeFile.Write(Path.Combine(folder, DeskSchema.FileName), DeskSchema.Text);
    }

    /// <summary>One of its files, as it is laid out.</summary>
    internal static string Text(string name) => Beside(Resource(name));

    /// <summary>In the checkout a file names what it needs where it lies there; laid out, all lies beside it.</summary>
    private static string Beside(string text)
    {
        foreach (var folder in (string[])["../src/Mixscore.Planning/Plan/", "../src/Mixscore.Desk/Map/", "../scores/"]) text = text.Replace(folder, "", StringComparison.Ordinal);
        return text;
    }

    private static string Resource(string name)
    {
        using var stream = typeof(DemoProject).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException("the program was built without " + name);
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    }
}
