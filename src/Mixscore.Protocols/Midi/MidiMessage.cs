namespace Mixscore.Protocols.Midi;

/// <summary>One MIDI 1.0 message of at most three bytes; made by the named methods or by a <see cref="MidiParser"/>.</summary>
public readonly record struct MidiMessage
{
    private readonly byte _status;

    internal MidiMessage(int status, Midi7 data1 = default, Midi7 data2 = default) =>
        (_status, Data1, Data2) = ((byte)status, data1, data2);

    /// <summary>What kind of message it is.</summary>
    public MidiKind Kind => KindOf(_status);

    /// <summary>The channel; <c>null</c> for system messages.</summary>
    public MidiChannel? Channel => _status is >= 0x80 and < 0xF0 ? MidiChannel.Of(_status) : null;

    /// <summary>The first data byte; 0 where there is none.</summary>
    public Midi7 Data1 { get; }

    /// <summary>The second data byte; 0 where there is none.</summary>
    public Midi7 Data2 { get; }

    /// <summary>The two data bytes as one number, low byte first: pitch bend and song position.</summary>
    public Midi14 Wide => new(Data2, Data1);

    /// <summary>Bytes on the wire with status: 1 to 3; 0 for no message and for system exclusive.</summary>
    public int Length => _status is 0 or 0xF0 ? 0 : 1 + DataBytes(_status);

    /// <summary>Begins a note.</summary>
    public static MidiMessage NoteOn(MidiChannel channel, Midi7 key, Midi7 velocity) => new(0x90 | channel.Nibble, key, velocity);

    /// <summary>Ends a note.</summary>
    public static MidiMessage NoteOff(MidiChannel channel, Midi7 key, Midi7 velocity) => new(0x80 | channel.Nibble, key, velocity);

    /// <summary>A controller's 7-bit value.</summary>
    public static MidiMessage ControlChange(MidiChannel channel, Midi7 controller, Midi7 value) =>
        new(0xB0 | channel.Nibble, controller, value);

    /// <summary>Pitch bend; <see cref="Midi14.Centre"/> is no bend.</summary>
    public static MidiMessage PitchBend(MidiChannel channel, Midi14 value) => new(0xE0 | channel.Nibble, value.Low, value.High);

    /// <summary>Where to go on, in sixteenths from the beginning.</summary>
    public static MidiMessage SongPosition(Midi14 sixteenths) => new(0xF2, sixteenths.Low, sixteenths.High);

    /// <summary>One of the eight parts of a timecode label, by <see cref="TimecodeQuarterFrame"/>.</summary>
    public static MidiMessage QuarterFrame(Midi7 data) => new(0xF1, data);

    /// <summary>One of 24 in a quarter.</summary>
    public static MidiMessage Clock => new(0xF8);

    /// <summary>Run from position 0 with the next clock.</summary>
    public static MidiMessage Start => new(0xFA);

    /// <summary>Run from the current position with the next clock.</summary>
    public static MidiMessage Continue => new(0xFB);

    /// <summary>Stop.</summary>
    public static MidiMessage Stop => new(0xFC);

    /// <summary>Writes the bytes, status included.</summary>
    /// <returns><see cref="Length"/>.</returns>
    /// <exception cref="ArgumentException">The destination is shorter.</exception>
    public int Write(Span<byte> destination)
    {
        var length = Length;
        if (destination.Length < length) throw new ArgumentException($"the message takes {length} bytes", nameof(destination));
        if (length > 0) destination[0] = _status;
        if (length > 1) destination[1] = Data1.Octet;
        if (length > 2) destination[2] = Data2.Octet;
        return length;
    }

    /// <summary>The bytes in hexadecimal: <c>b0 07 64</c>.</summary>
    public override string ToString()
    {
        Span<byte> bytes = stackalloc byte[3];
        return Length == 0 ? $"{Kind}" : string.Join(' ', bytes[..Write(bytes)].ToArray().Select(octet => $"{octet:x2}"));
    }

    internal static MidiKind KindOf(int status) => (MidiKind)(status < 0xF0 ? status & 0xF0 : status);

    // MIDI 1.0, table of status bytes.
    internal static int DataBytes(int status) => KindOf(status) switch
    {
        MidiKind.ProgramChange or MidiKind.ChannelPressure or MidiKind.QuarterFrame or MidiKind.SongSelect => 1,
        MidiKind.SongPosition => 2,
        _ => status < 0xF0 ? 2 : 0,
    };
}
