using Mixscore.Desk;
using Mixscore.Planning;

namespace Mixscore.Project;

/// <summary>The demo piece, carried inside the program so that it needs no checkout.</summary>
internal static class DemoProject
{
    internal const string Plan = "night-ferry.mix.yaml";

    internal static IReadOnlyList<string> Maps { get; } = ["hall-osc.desk.yaml", "hall-midi.desk.yaml"];

    /// <summary>Lays the piece into a folder. What a person changed there since stays.</summary>
    internal static void LayOut(string folder)
    {
        foreach (var name in (string[])["night-ferry.musicxml", Plan, .. Maps])
        {
            var path = Path.Combine(folder, name);
            if (!File.Exists(path)) WholeFile.Write(path, Resource(name));
        }
        WholeFile.Write(Path.Combine(folder, PlanSchema.FileName), PlanSchema.Text);
        WholeFile.Write(Path.Combine(folder, DeskSchema.FileName), DeskSchema.Text);
    }

    private static byte[] Resource(string name)
    {
        using var stream = typeof(DemoProject).Assembly.GetManifestResourceStream(name) ?? throw new InvalidOperationException("the program was built without " + name);
        using var bytes = new MemoryStream();
        stream.CopyTo(bytes);
        return bytes.ToArray();
    }
}
