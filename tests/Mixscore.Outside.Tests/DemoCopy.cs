namespace Mixscore.Outside.Tests;

/// <summary>The demo, measured and fitted, in a folder of its own, with the same stems.</summary>
internal sealed class DemoCopy : IDisposable
{
    internal DemoCopy(DemoRun demo)
    {
        foreach (var file in Directory.GetFiles(demo.PathOf("out"), "*.json").Concat(Directory.GetFiles(demo.PathOf("out", "cache"), "*", SearchOption.AllDirectories)))
            Copy(file, Path.GetRelativePath(demo.Folder, file));
        foreach (var file in new[] { "night-ferry.mix.yaml", "night-ferry.musicxml", "mix.schema.json", "desk.schema.json" }) Copy(demo.PathOf(file), file);
        Directory.CreateSymbolicLink(Path.Combine(Folder, "stems"), demo.PathOf("stems"));
    }

    internal string Folder { get; } = Directory.CreateTempSubdirectory("mixscore-fold-").FullName;

    internal string Plan => Path.Combine(Folder, "night-ferry.mix.yaml");

    public void Dispose()
    {
        Directory.Delete(Path.Combine(Folder, "stems"));
        Directory.Delete(Folder, recursive: true);
    }

    private void Copy(string from, string to)
    {
        Directory.CreateDirectory(Path.GetDirectoryName(Path.Combine(Folder, to))!);
        File.Copy(from, Path.Combine(Folder, to));
    }
}
