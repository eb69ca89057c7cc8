using System.IO.Compression;
using System.IO.Hashing;
using System.Xml.Linq;

namespace Mixscore.Page;

/// <summary>The score's MusicXML as the engraver takes it: unpacked, as bytes. The reader has found it good before.</summary>
internal static class ScoreText
{
    private const long MostBytes = 256L << 20;

    /// <summary>Whether the file is MusicXML, plain or packed; a Standard MIDI File has nothing to engrave.</summary>
    internal static bool IsXml(string path)
    {
        Span<byte> head = stackalloc byte[4];
        using var file = File.OpenRead(path);
        return file.ReadAtLeast(head, head.Length, throwOnEndOfStream: false) > 0 && !head.SequenceEqual("MThd"u8);
    }

    /// <summary>Tells one content from another, as 32 hexadecimal digits; <c>null</c> where there is nothing to engrave.</summary>
    internal static string? Key(string path) => IsXml(path) ? Convert.ToHexStringLower(XxHash128.Hash(File.ReadAllBytes(path))) : null;

    internal static byte[] Read(string path)
    {
        var bytes = File.ReadAllBytes(path);
        return bytes.AsSpan().StartsWith("PK"u8) ? Unpack(bytes) : bytes;
    }

    /// <summary>Source: MusicXML 4.0, compressed files: META-INF/container.xml names the score in its first root file.</summary>
    private static byte[] Unpack(byte[] bytes)
    {
        using var archive = new ZipArchive(new MemoryStream(bytes));
        var container = archive.GetEntry("META-INF/container.xml") ?? throw new InvalidDataException("the packed score names no root file");
        using var named = container.Open();
        var name = XDocument.Load(named).Descendants().FirstOrDefault(element => element.Name.LocalName == "rootfile")?.Attribute("full-path")?.Value;
        var entry = name is null ? null : archive.GetEntry(name);
        if (entry is null || entry.Length > MostBytes) throw new InvalidDataException("the packed score's root file is not there, or is too large");
        using var stream = entry.Open();
        using var text = new MemoryStream();
        stream.CopyTo(text);
        return text.ToArray();
    }
}
