using System.IO.Compression;
using System.Xml;

namespace Mixscore.Score;

/// <summary>
/// A packed score (.mxl): a zip whose META-INF/container.xml names the score. Source: MusicXML 4.0, container file.
/// Nothing is unpacked to disk, and sizes are counted as they come, whatever the zip claims.
/// </summary>
internal static class Packed
{
    private const string ContainerPath = "META-INF/container.xml";
    private const long MostContainerBytes = 1 << 20;

    internal static WrittenScore Read(Stream stream, string name)
    {
        try
        {
            using var zip = new ZipArchive(stream, ZipArchiveMode.Read, leaveOpen: true);
            var score = FindScore(zip, name);
            using var content = new CountedStream(score.Open(), stream.Length, XmlInput.MostBytes, name);
            return MusicXmlReader.Read(content, name);
        }
        catch (InvalidDataException broken)
        {
            throw Broken(name, $"the packed score cannot be unpacked ({broken.Message.TrimEnd('.')})");
        }
    }

    private static ZipArchiveEntry FindScore(ZipArchive zip, string name)
    {
        if (zip.GetEntry(ContainerPath) is { } container)
        {
            var path = RootPath(container, name);
            return Entry(zip, path) ?? Entry(zip, Uri.UnescapeDataString(path)) ?? throw Broken(name, $"{ContainerPath} names \"{path}\", which is not in the package");
        }
        return zip.Entries.FirstOrDefault(IsScore) ?? throw Broken(name, "the package holds no score");
    }

    /// <summary>An entry by its path, whatever its slashes and capitals.</summary>
    private static ZipArchiveEntry? Entry(ZipArchive zip, string path)
    {
        if (zip.GetEntry(path) is { } exact) return exact;
        var plain = Plain(path);
        return zip.Entries.FirstOrDefault(entry => Plain(entry.FullName).Equals(plain, StringComparison.OrdinalIgnoreCase));

        static string Plain(string path)
        {
            var slashed = path.Replace('\\', '/');
            while (slashed.StartsWith("./", StringComparison.Ordinal)) slashed = slashed[2..];
            return slashed.TrimStart('/');
        }
    }

    /// <summary>Whether an entry of a package without a container may be the score; what a file system adds to packages is none.</summary>
    private static bool IsScore(ZipArchiveEntry entry) =>
        !entry.FullName.StartsWith("META-INF/", StringComparison.OrdinalIgnoreCase)
        && !entry.FullName.StartsWith("__MACOSX/", StringComparison.OrdinalIgnoreCase)
        && !entry.Name.StartsWith('.')
        && (entry.FullName.EndsWith(".xml", StringComparison.OrdinalIgnoreCase) || entry.FullName.EndsWith(".musicxml", StringComparison.OrdinalIgnoreCase));

    /// <summary>The first root file that says it is MusicXML or says nothing, which the format says is the score; else the first of all.</summary>
    private static string RootPath(ZipArchiveEntry container, string name)
    {
        using var content = new CountedStream(container.Open(), MostContainerBytes, MostContainerBytes, name);
        using var xml = XmlInput.Open(content);
        string? first = null;
        try
        {
            while (xml.Read())
                if (xml is { NodeType: XmlNodeType.Element, LocalName: "rootfile" } && xml.GetAttribute("full-path") is { Length: > 0 } path)
                {
                    if (xml.GetAttribute("media-type") is null or "" or "application/vnd.recordare.musicxml+xml") return path;
                    first ??= path;
                }
        }
        catch (XmlException broken)
        {
            throw Broken(name, $"{ContainerPath} is not well-formed ({broken.Message.TrimEnd('.')})");
        }
        return first ?? throw Broken(name, $"{ContainerPath} names no score");
    }

    private static InputException Broken(string name, string found) =>
        new(new Fault("MX005", new Place(name), found, "export the score again as .mxl or .musicxml"));
}
