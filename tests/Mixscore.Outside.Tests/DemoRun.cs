using System.Security.Cryptography;
using System.Text.Json;

[assembly: AssemblyFixture(typeof(Mixscore.Outside.Tests.DemoRun))]

namespace Mixscore.Outside.Tests;

/// <summary>The demo, run twice in a folder of its own, once for all tests.</summary>
public sealed class DemoRun : IDisposable
{
    private readonly Lazy<(Outside.Ended First, Dictionary<string, string> Made, Outside.Ended Second)> _runs;

    public DemoRun() => _runs = new(() =>
    {
        var first = Outside.Mixscore("demo", Folder);
        var made = Contents();
        return (first, made, Outside.Mixscore("demo", Folder));
    });

    internal string Folder { get; } = Path.Combine(Path.GetTempPath(), "mixscore-demo-" + Guid.NewGuid().ToString("n")[..8]);

    internal Outside.Ended First => _runs.Value.First;

    internal Outside.Ended Second => _runs.Value.Second;

    /// <summary>Every file after the first run, with a hash of what it holds.</summary>
    internal Dictionary<string, string> Made => _runs.Value.Made;

    internal string PathOf(params string[] parts)
    {
        Assert.Equal(0, First.Code);
        return Path.Combine([Folder, .. parts]);
    }

    internal JsonElement Json(params string[] parts) => JsonDocument.Parse(File.ReadAllText(PathOf(parts))).RootElement;

    internal Dictionary<string, string> Contents() => Directory.GetFiles(Folder, "*", SearchOption.AllDirectories)
        .ToDictionary(file => Path.GetRelativePath(Folder, file), file => Convert.ToHexString(SHA256.HashData(File.ReadAllBytes(file))));

    public void Dispose()
    {
        if (Directory.Exists(Folder)) Directory.Delete(Folder, recursive: true);
    }
}
