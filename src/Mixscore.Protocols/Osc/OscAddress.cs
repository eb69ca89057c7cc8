using System.Numerics;

namespace Mixscore.Protocols.Osc;

/// <summary>What may name a method or a container (OSC 1.0, "OSC Address Spaces and OSC Addresses").</summary>
public static class OscAddress
{
    /// <summary>True when every part between slashes has a name of printable ASCII without space # * , / ? [ ] { }.</summary>
    public static bool IsValid(ReadOnlySpan<char> address) => IsValid<char>(address);

    /// <summary>The same, on the bytes of a packet.</summary>
    public static bool IsValid(ReadOnlySpan<byte> address) => IsValid<byte>(address);

    internal static int Code<T>(T sign) where T : unmanaged, IBinaryInteger<T> => int.CreateTruncating(sign);

    // A space is not printable in the sense meant here: '!' is the first sign, '~' the last.
    internal static bool IsPrintable(int code) => code is > ' ' and <= '~';

    private static bool IsValid<T>(ReadOnlySpan<T> address) where T : unmanaged, IBinaryInteger<T>
    {
        if (address.Length < 2 || Code(address[0]) != '/' || Code(address[^1]) == '/') return false;
        for (var i = 1; i < address.Length; i++)
        {
            var code = Code(address[i]);
            if (!IsPrintable(code) || code is '#' or '*' or ',' or '?' or '[' or ']' or '{' or '}') return false;
            if (code == '/' && Code(address[i - 1]) == '/') return false;
        }
        return true;
    }
}
