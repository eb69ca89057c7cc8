using System.Globalization;

namespace Mixscore.Protocols.Osc;

/// <summary>A MIDI message as the tag <c>m</c> carries it, in wire order. The bytes are not judged.</summary>
/// <param name="Port">Port number.</param>
/// <param name="Status">Status byte.</param>
/// <param name="Data1">First data byte.</param>
/// <param name="Data2">Second data byte.</param>
public readonly record struct OscMidi(byte Port, byte Status, byte Data1, byte Data2)
{
    internal uint Packed => ((uint)Port << 24) | ((uint)Status << 16) | ((uint)Data1 << 8) | Data2;

    internal static OscMidi Unpack(uint bits) =>
        new((byte)(bits >> 24), (byte)(bits >> 16), (byte)(bits >> 8), (byte)bits);

    /// <summary>Four bytes in hexadecimal: <c>00:90:3c:40</c>.</summary>
    public override string ToString() =>
        string.Create(CultureInfo.InvariantCulture, $"{Port:x2}:{Status:x2}:{Data1:x2}:{Data2:x2}");
}
