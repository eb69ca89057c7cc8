using System.Collections.Concurrent;

namespace Mixscore.Page;

/// <summary>The client's files, listed once at the start: a name that is not on the list is not there, so no path reaches outside.</summary>
internal sealed class ClientFiles
{
    private readonly Dictionary<string, string> _byPath;
    private readonly ConcurrentDictionary<string, byte[]> _read = new(StringComparer.Ordinal);

    private ClientFiles(Dictionary<string, string> byPath) => _byPath = byPath;

    /// <summary>Where the build puts them.</summary>
    internal static string Folder => Path.Combine(AppContext.BaseDirectory, "page");

    /// <summary>Whether the page was built; it needs Node.js.</summary>
    internal bool AreThere => _byPath.ContainsKey("/index.html");

    internal static ClientFiles In(string folder)
    {
        var files = Directory.Exists(folder) ? Directory.GetFiles(folder, "*", SearchOption.AllDirectories) : [];
        return new ClientFiles(files.ToDictionary(file => "/" + Path.GetRelativePath(folder, file).Replace('\\', '/'), StringComparer.Ordinal));
    }

    /// <summary>The paths of all of them.</summary>
    internal IReadOnlyCollection<string> Paths => _byPath.Keys;

    /// <summary>The file at a path of the address, such as <c>/assets/page.js</c>.</summary>
    internal string? Find(string path) => _byPath.GetValueOrDefault(path);

    /// <summary>What is in one of them, read once: handed over whole, since a file that is sent piece by piece takes the processor from the
    /// browser that waits for it.</summary>
    internal byte[] Read(string file) => _read.GetOrAdd(file, File.ReadAllBytes);

    internal static string TypeOf(string file) => Path.GetExtension(file) switch
    {
        ".html" => "text/html; charset=utf-8",
        ".js" or ".mjs" => "text/javascript; charset=utf-8",
        ".css" => "text/css; charset=utf-8",
        ".svg" => "image/svg+xml",
        ".wasm" => "application/wasm",
        ".json" => "application/json",
        ".woff2" => "font/woff2",
        _ => "text/plain; charset=utf-8",
    };
}
