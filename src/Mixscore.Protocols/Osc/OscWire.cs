using System.Buffers.Binary;
using System.Text.Unicode;

namespace Mixscore.Protocols.Osc;

/// <summary>The grammar of single values: how long they are and whether they are sound (OSC 1.0, "Atomic Data Types").</summary>
internal static class OscWire
{
    internal const int BundleHeader = 16;

    internal static ReadOnlySpan<byte> BundleMark => "#bundle\0"u8;

    internal static int Padded(int length) => (length + 3) & ~3;

    /// <summary>Bytes of text with its NUL and padding.</summary>
    internal static int PaddedText(int length) => Padded(length + 1);

    internal static bool IsKnownTag(int tag) =>
        tag is 'i' or 'f' or 's' or 'b' or 'h' or 't' or 'd' or 'S' or 'c' or 'r' or 'm' or 'T' or 'F' or 'N' or 'I' or '[' or ']';

    /// <summary>Where the content of a value lies and where the next begins; the problem's offset counts from the packet.</summary>
    internal static OscProblem Measure(ReadOnlySpan<byte> packet, int at, int end, byte tag, out Range content, out int next)
    {
        content = at..at;
        next = at;
        switch ((char)tag)
        {
            case 'i' or 'f' or 'c' or 'r' or 'm':
                return Fixed(at, end, 4, out content, out next);
            case 'h' or 't' or 'd':
                return Fixed(at, end, 8, out content, out next);
            case 's' or 'S':
                var problem = MeasureText(packet, at, end, out content, out next);
                return problem.IsNone && !Utf8.IsValid(packet[content]) ? new OscProblem(OscFault.Text, at) : problem;
            case 'b':
                if (end - at < 4) return new OscProblem(OscFault.Truncated, at);
                var count = BinaryPrimitives.ReadInt32BigEndian(packet[at..]);
                if (count < 0 || count > end - at - 4) return new OscProblem(OscFault.BlobSize, at);
                content = (at + 4)..(at + 4 + count);
                next = at + 4 + Padded(count);
                return next > end ? new OscProblem(OscFault.Truncated, at) : Padding(packet, at + 4 + count, next);
            default:
                return default;
        }
    }

    internal static OscProblem MeasureText(ReadOnlySpan<byte> packet, int at, int end, out Range content, out int next)
    {
        content = at..at;
        next = at;
        var length = packet[at..end].IndexOf((byte)0);
        if (length < 0) return new OscProblem(at == end ? OscFault.Truncated : OscFault.Text, at);
        content = at..(at + length);
        next = at + PaddedText(length);
        return next > end ? new OscProblem(OscFault.Truncated, at) : Padding(packet, at + length, next);
    }

    private static OscProblem Fixed(int at, int end, int size, out Range content, out int next)
    {
        content = at..(at + size);
        next = at + size;
        return next > end ? new OscProblem(OscFault.Truncated, at) : default;
    }

    private static OscProblem Padding(ReadOnlySpan<byte> packet, int from, int to)
    {
        var odd = packet[from..to].IndexOfAnyExcept((byte)0);
        return odd < 0 ? default : new OscProblem(OscFault.Padding, from + odd);
    }
}
