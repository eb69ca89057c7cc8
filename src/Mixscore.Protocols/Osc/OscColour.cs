using System.Globalization;

namespace Mixscore.Protocols.Osc;

/// <summary>A colour as the tag <c>r</c> carries it, in wire order.</summary>
/// <param name="Red">Red, 0 to 255.</param>
/// <param name="Green">Green, 0 to 255.</param>
/// <param name="Blue">Blue, 0 to 255.</param>
/// <param name="Alpha">Opacity, 0 to 255.</param>
public readonly record struct OscColour(byte Red, byte Green, byte Blue, byte Alpha)
{
    internal uint Packed => ((uint)Red << 24) | ((uint)Green << 16) | ((uint)Blue << 8) | Alpha;

    internal static OscColour Unpack(uint bits) =>
        new((byte)(bits >> 24), (byte)(bits >> 16), (byte)(bits >> 8), (byte)bits);

    /// <summary><c>#rrggbbaa</c> in hexadecimal.</summary>
    public override string ToString() => string.Create(CultureInfo.InvariantCulture, $"#{Packed:x8}");
}
