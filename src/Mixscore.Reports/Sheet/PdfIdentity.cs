using System.Security.Cryptography;
using System.Text;

namespace Mixscore.Reports;

/// <summary>
/// Takes chance out of a PDF. The library draws two things by lot: the names of embedded fonts begin with six letters
/// (ISO 32000-1, 9.6.4), and the description (XMP) names the document by random numbers. Both are replaced in place by
/// ones that come from the content, of the same length, so that every offset stays.
/// </summary>
internal static class PdfIdentity
{
    private const int TagLetters = 6, GuidLetters = 36;

    internal static void Settle(Span<byte> pdf, byte[] seed)
    {
        ReadOnlySpan<byte> font = "+DejaVu#20Sans"u8, identity = "uuid:"u8;
        var tags = new Dictionary<string, byte[]>(StringComparer.Ordinal);
        for (var at = 0; Find(pdf, font, at) is var found and >= 0; at = found + 1)
        {
            if (found < TagLetters || pdf.Slice(found - TagLetters, TagLetters).ContainsAnyExceptInRange((byte)'A', (byte)'Z')) continue;
            var tag = pdf.Slice(found - TagLetters, TagLetters);
            var name = Encoding.ASCII.GetString(tag);
            if (!tags.TryGetValue(name, out var settled)) tags[name] = settled = [.. "SHEET"u8, (byte)('A' + tags.Count)];
            settled.CopyTo(tag);
        }
        var count = 0;
        for (var at = 0; Find(pdf, identity, at) is var found and >= 0; at = found + 1)
        {
            var number = new Guid(SHA256.HashData([.. seed, (byte)count++])[..16]).ToString("D");
            if (found + identity.Length + GuidLetters <= pdf.Length) Encoding.ASCII.GetBytes(number, pdf[(found + identity.Length)..]);
        }
    }

    private static int Find(ReadOnlySpan<byte> pdf, ReadOnlySpan<byte> what, int from)
    {
        var found = pdf[from..].IndexOf(what);
        return found < 0 ? -1 : from + found;
    }
}
