using System.Numerics;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// Address patterns: <c>? * [abc] [!a-z] {foo,bar}</c> (OSC 1.0, "OSC Message Dispatching and Pattern Matching") and
/// <c>//</c> for any number of levels, none included (OSC 1.1, section 3.4). Every other sign crosses no slash.
/// </summary>
public static class OscPattern
{
    // Above this length the two working rows come from the heap instead of the stack.
    private const int StackLimit = 512;

    /// <summary>True when the text may be sent as an address: it begins with a slash, is printable ASCII without space and
    /// #, has brackets and braces closed within their part and not nested, and commas only in braces.</summary>
    public static bool IsValid(ReadOnlySpan<char> pattern) => IsValid<char>(pattern);

    /// <summary>The same, on the bytes of a packet.</summary>
    public static bool IsValid(ReadOnlySpan<byte> pattern) => IsValid<byte>(pattern);

    /// <summary>True when the text holds a sign of pattern matching, so that it may match more than one address.</summary>
    public static bool IsPattern(ReadOnlySpan<char> address) =>
        address.IndexOfAny("?*[{") >= 0 || address.IndexOf("//") >= 0;

    /// <summary>The same, on the bytes of a packet.</summary>
    public static bool IsPattern(ReadOnlySpan<byte> address) =>
        address.IndexOfAny("?*[{"u8) >= 0 || address.IndexOf("//"u8) >= 0;

    /// <summary>True when the pattern matches the whole address. A pattern that is not valid matches nothing. The work is
    /// at most pattern length × address length, whatever the pattern.</summary>
    public static bool Matches(ReadOnlySpan<char> pattern, ReadOnlySpan<char> address) => Matches<char>(pattern, address);

    /// <summary>The same, on the bytes of packets.</summary>
    public static bool Matches(ReadOnlySpan<byte> pattern, ReadOnlySpan<byte> address) => Matches<byte>(pattern, address);

    private static bool IsValid<T>(ReadOnlySpan<T> pattern) where T : unmanaged, IBinaryInteger<T>
    {
        if (pattern.IsEmpty || OscAddress.Code(pattern[0]) != '/') return false;
        var open = 0;
        for (var i = 0; i < pattern.Length; i++)
        {
            var code = OscAddress.Code(pattern[i]);
            if (!OscAddress.IsPrintable(code) || code == '#') return false;
            if (open == 0)
            {
                if (code is ']' or '}' or ',') return false;
                if (code is '[' or '{') open = i;
            }
            else if (code is '/' or '[' or '{' or '*' or '?') return false;
            else if (OscAddress.Code(pattern[open]) == '{')
            {
                if (code == ']') return false;
                if (code == '}') open = 0;
            }
            else
            {
                if (code is '}' or ',') return false;
                if (code != ']') continue;
                var negated = OscAddress.Code(pattern[open + 1]) == '!';
                if (i == open + (negated ? 2 : 1)) return false;
                open = 0;
            }
        }
        return open == 0;
    }

    private static bool Matches<T>(ReadOnlySpan<T> pattern, ReadOnlySpan<T> address) where T : unmanaged, IBinaryInteger<T>
    {
        if (!IsValid(pattern)) return false;
        var size = address.Length + 1;
        Span<bool> here = size <= StackLimit ? stackalloc bool[size] : new bool[size];
        Span<bool> next = size <= StackLimit ? stackalloc bool[size] : new bool[size];
        here[0] = true;
        // here[i]: the pattern so far can have used up exactly the first i signs of the address.
        for (var at = 0; at < pattern.Length;)
        {
            next.Clear();
            at += Step(pattern[at..], address, here, next);
            var swap = here;
            here = next;
            next = swap;
            if (!here.Contains(true)) return false;
        }
        return here[address.Length];
    }

    // Takes one element off the pattern and moves every place reached; returns the element's length.
    private static int Step<T>(ReadOnlySpan<T> pattern, ReadOnlySpan<T> address, Span<bool> here, Span<bool> next)
        where T : unmanaged, IBinaryInteger<T>
    {
        switch (OscAddress.Code(pattern[0]))
        {
            case '*':
                next[0] = here[0];
                for (var i = 0; i < address.Length; i++)
                    next[i + 1] = here[i + 1] || (next[i] && OscAddress.Code(address[i]) != '/');
                return 1;
            case '/' when pattern.Length > 1 && OscAddress.Code(pattern[1]) == '/':
                var seen = false;
                for (var i = 0; i < address.Length; i++)
                {
                    if (OscAddress.Code(address[i]) != '/') continue;
                    seen |= here[i];
                    next[i + 1] = seen;
                }
                return 2;
            case '{':
                var close = pattern.IndexOf(T.CreateTruncating('}'));
                var list = pattern[1..close];
                for (var rest = list; ;)
                {
                    var comma = rest.IndexOf(T.CreateTruncating(','));
                    var word = comma < 0 ? rest : rest[..comma];
                    for (var i = 0; i + word.Length <= address.Length; i++)
                        next[i + word.Length] |= here[i] && address[i..].StartsWith(word);
                    if (comma < 0) return close + 1;
                    rest = rest[(comma + 1)..];
                }
            case '[':
                var end = pattern.IndexOf(T.CreateTruncating(']'));
                var negated = OscAddress.Code(pattern[1]) == '!';
                var set = pattern[(negated ? 2 : 1)..end];
                for (var i = 0; i < address.Length; i++)
                {
                    var code = OscAddress.Code(address[i]);
                    next[i + 1] = here[i] && code != '/' && Holds(set, code) != negated;
                }
                return end + 1;
            case '?':
                for (var i = 0; i < address.Length; i++)
                    next[i + 1] = here[i] && OscAddress.Code(address[i]) != '/';
                return 1;
            default:
                for (var i = 0; i < address.Length; i++) next[i + 1] = here[i] && address[i] == pattern[0];
                return 1;
        }
    }

    // A minus between two signs is a range, in either order; at the beginning or the end it stands for itself.
    private static bool Holds<T>(ReadOnlySpan<T> set, int code) where T : unmanaged, IBinaryInteger<T>
    {
        for (var i = 0; i < set.Length; i++)
        {
            var first = OscAddress.Code(set[i]);
            if (i + 2 < set.Length && OscAddress.Code(set[i + 1]) == '-')
            {
                var last = OscAddress.Code(set[i + 2]);
                if (code >= Math.Min(first, last) && code <= Math.Max(first, last)) return true;
                i += 2;
            }
            else if (code == first) return true;
        }
        return false;
    }
}
