using System.Globalization;

namespace Mixscore.Protocols.Midi;

/// <summary>A MIDI channel, counted from 1 as people do. The default value is channel 1.</summary>
public readonly record struct MidiChannel
{
    /// <summary>How many there are.</summary>
    public const int Count = 16;

    private readonly byte _nibble;

    /// <summary>A channel.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not from 1 to 16.</exception>
    public MidiChannel(int number)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(number, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(number, Count);
        _nibble = (byte)(number - 1);
    }

    /// <summary>1 to 16.</summary>
    public int Number => _nibble + 1;

    internal int Nibble => _nibble;

    internal static MidiChannel Of(int status) => new((status & 0x0F) + 1);

    /// <summary>The number, from 1.</summary>
    public override string ToString() => Number.ToString(CultureInfo.InvariantCulture);
}
