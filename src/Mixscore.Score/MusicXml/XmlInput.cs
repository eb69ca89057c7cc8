using System.Text;
using System.Text.RegularExpressions;
using System.Xml;

namespace Mixscore.Score;

/// <summary>Opens XML that nobody vouches for: no DTD is fetched or read, no entity is known, and length is limited.</summary>
internal static partial class XmlInput
{
    /// <summary>The most bytes of XML that are read; a long orchestral score has some tens of millions.</summary>
    internal const long MostBytes = 128L << 20;

    private const int HeadBytes = 256;

    internal static XmlReader Open(Stream stream)
    {
        var settings = new XmlReaderSettings
        {
            DtdProcessing = DtdProcessing.Ignore,
            XmlResolver = null,
            MaxCharactersInDocument = MostBytes,
            MaxCharactersFromEntities = 0x10000,
            IgnoreComments = true,
            IgnoreProcessingInstructions = true,
            IgnoreWhitespace = true,
            CloseInput = false,
        };
        var head = new byte[HeadBytes];
        var length = stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false);
        var whole = new GuardedStream(head.AsMemory(0, length), stream);
        return Encoding(head.AsSpan(0, length)) is { } encoding
            ? XmlReader.Create(new StreamReader(whole, encoding), settings)
            : XmlReader.Create(whole, settings);
    }

    /// <summary>The encoding where the bytes tell it better than the declaration does; otherwise <c>null</c>.</summary>
    private static Encoding? Encoding(ReadOnlySpan<byte> head)
    {
        if (head.StartsWith((ReadOnlySpan<byte>)[(byte)'<', 0])) return System.Text.Encoding.Unicode;
        if (head.StartsWith((ReadOnlySpan<byte>)[0, (byte)'<'])) return System.Text.Encoding.BigEndianUnicode;
        if (!head.StartsWith("<?xml"u8)) return null;
        var declaration = System.Text.Encoding.Latin1.GetString(head[..Math.Max(0, head.IndexOf((byte)'>'))]);
        if (DeclaredName().Match(declaration) is not { Success: true } declared) return null;
        var name = declared.Groups[1].Value;
        // The bytes are single, so a declared UTF-16 is not true; some programs write it all the same.
        if (name.StartsWith("UTF-16", StringComparison.OrdinalIgnoreCase)) return System.Text.Encoding.UTF8;
        // Windows and Macintosh code pages, which the XML reader alone does not know; null for all that it does.
        return CodePagesEncodingProvider.Instance.GetEncoding(name);
    }

    [GeneratedRegex("""encoding\s*=\s*["']([A-Za-z0-9._-]{1,40})["']""")]
    private static partial Regex DeclaredName();
}
