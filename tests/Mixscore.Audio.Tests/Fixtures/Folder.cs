namespace Mixscore.Audio.Tests;

/// <summary>A folder of a test's own, taken away with it.</summary>
internal sealed class Folder : IDisposable
{
    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("mixscore-audio-");

    public string this[string name] => Path.Combine(_folder.FullName, name);

    public IEnumerable<string> Names => _folder.EnumerateFiles("*", SearchOption.AllDirectories).Select(file => file.Name).Order(StringComparer.Ordinal);

    public void Dispose() => _folder.Delete(recursive: true);
}
