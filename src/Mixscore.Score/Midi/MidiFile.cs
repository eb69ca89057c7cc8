using System.Globalization;
using System.Text;

namespace Mixscore.Score;

/// <summary>What one event of a track says, as far as a score needs it.</summary>
internal enum MidiEventKind
{
    NoteOn,
    NoteOff,
    Tempo,
    Meter,
    Marker,
    Lyric,
    TrackName,
}

/// <summary>One event.</summary>
/// <param name="Tick">From the start of the track.</param>
/// <param name="Kind">What it says.</param>
/// <param name="Channel">From 0; 0 for meta events.</param>
/// <param name="Value">The key, the microseconds a quarter, or the meter's numerator.</param>
/// <param name="Second">The velocity, or the exponent of the meter's denominator.</param>
/// <param name="Text">The text; empty where it has none.</param>
internal readonly record struct MidiEvent(long Tick, MidiEventKind Kind, int Channel, int Value, int Second, string Text);

/// <summary>One track: its events in order, and where it ends.</summary>
internal sealed record MidiTrack(List<MidiEvent> Events, long End);

/// <summary>A Standard MIDI File of format 0 or 1. Source: Standard MIDI Files 1.0.</summary>
/// <param name="Format">0 or 1.</param>
/// <param name="Division">Ticks a quarter; for SMPTE time, ticks a second as an exact fraction.</param>
/// <param name="IsSmpte">Whether ticks divide seconds and not quarters.</param>
/// <param name="Tracks">At least one.</param>
internal sealed record MidiFile(int Format, Fraction Division, bool IsSmpte, List<MidiTrack> Tracks)
{
    private const long LastTick = 1L << 40;

    internal static MidiFile Read(byte[] bytes, string file, Notices notices)
    {
        var cursor = new ByteCursor(bytes, 0, file);
        if (!cursor.Take(4).SequenceEqual("MThd"u8)) throw cursor.Broken("the file does not begin with MThd");
        var head = cursor.Part(Length(cursor));
        var format = head.Word();
        if (format == 2)
            throw new InputException(new Fault("MX020", new Place(file), "a MIDI file of format 2 holds several pieces side by side", "export it as format 0 or 1"));
        if (format > 2) throw cursor.Broken($"format {format} is not known");
        var said = head.Word();
        var (division, isSmpte) = Divide(head.Word(), cursor);
        var tracks = new List<MidiTrack>();
        while (cursor.Left >= 8)
        {
            var isTrack = cursor.Take(4).SequenceEqual("MTrk"u8);
            var content = cursor.Part(Length(cursor));
            if (isTrack) tracks.Add(Track(content, notices));
        }
        if (tracks.Count == 0) throw cursor.Broken("the file has no tracks");
        if (tracks.Count < said) throw cursor.Broken($"the file says that it has {said} tracks but has {tracks.Count}");
        if (tracks.Count > said) notices.Warn("MX022", 0, "", $"the file says that it has {said} tracks; it has {tracks.Count}");
        return new MidiFile(format, division, isSmpte, tracks);
    }

    private static int Length(ByteCursor cursor)
    {
        var length = cursor.Long();
        return length <= cursor.Left ? (int)length : throw cursor.Broken($"a chunk says that it is {length} bytes long; {cursor.Left} are left");
    }

    /// <summary>Bit 15 set: frames a second as a negative number, then ticks a frame. 29 stands for 30 frames drop, 30000/1001 a second.</summary>
    private static (Fraction Division, bool IsSmpte) Divide(int word, ByteCursor cursor)
    {
        if (word < 0x8000) return word > 0 ? (new Fraction(word), false) : throw cursor.Broken("a division of 0 ticks a quarter cannot be");
        var frames = -unchecked((sbyte)(word >> 8));
        var ticks = word & 0xFF;
        if (frames is not (24 or 25 or 29 or 30) || ticks == 0) throw cursor.Broken($"a division of {ticks} ticks in {frames} frames a second cannot be");
        return ((frames == 29 ? new Fraction(30000, 1001) : new Fraction(frames)) * new Fraction(ticks), true);
    }

    private static MidiTrack Track(ByteCursor cursor, Notices notices)
    {
        var events = new List<MidiEvent>();
        long tick = 0;
        var running = 0;
        var isCancelled = false;
        while (!cursor.IsAtEnd)
        {
            tick += cursor.Quantity();
            if (tick > LastTick) throw cursor.Broken("the file is longer than a piece can be");
            var isRunning = cursor.Peek() < 0x80;
            var status = isRunning ? running : cursor.Byte();
            // The specification ends a running status at meta and exclusive events; some programs let it go on.
            if (isRunning && isCancelled && status != 0) notices.Warn("MX086", 0, "", "a running status goes on behind a meta or exclusive event; it is taken");
            isCancelled = status is 0xFF or 0xF0 or 0xF7 || (isRunning && isCancelled);
            switch (status)
            {
                case 0:
                    throw cursor.Broken($"at byte {cursor.Place}, an event has no status and none is running");
                case 0xFF:
                    var type = cursor.Byte();
                    var data = cursor.Take(cursor.Quantity());
                    if (type == 0x2F) return new MidiTrack(events, tick);
                    if (Meta(tick, type, data) is { } meta) events.Add(meta);
                    break;
                case 0xF0 or 0xF7:
                    cursor.Take(cursor.Quantity());
                    break;
                case >= 0xF1:
                    throw cursor.Broken($"at byte {cursor.Place - 1}, 0x{status.ToString("X2", CultureInfo.InvariantCulture)} cannot stand in a file");
                default:
                    running = status;
                    var first = Data(cursor);
                    var second = status is >= 0xC0 and < 0xE0 ? 0 : Data(cursor);
                    if ((status & 0xF0) is 0x80 or 0x90)
                        events.Add(new MidiEvent(tick, (status & 0xF0) == 0x90 && second > 0 ? MidiEventKind.NoteOn : MidiEventKind.NoteOff, status & 0x0F, first, second, ""));
                    break;
            }
        }
        notices.Warn("MX023", 0, "", "a track has no end-of-track event; it ends with its last event");
        return new MidiTrack(events, tick);
    }

    private static int Data(ByteCursor cursor) => cursor.Byte() is var value && value < 0x80
        ? value
        : throw cursor.Broken($"at byte {cursor.Place - 1}, 0x{value.ToString("X2", CultureInfo.InvariantCulture)} stands where data should");

    private static MidiEvent? Meta(long tick, int type, ReadOnlySpan<byte> data) => type switch
    {
        0x03 => new MidiEvent(tick, MidiEventKind.TrackName, 0, 0, 0, Text(data)),
        0x05 => new MidiEvent(tick, MidiEventKind.Lyric, 0, 0, 0, Text(data)),
        0x06 => new MidiEvent(tick, MidiEventKind.Marker, 0, 0, 0, Text(data)),
        0x51 when data.Length >= 3 => new MidiEvent(tick, MidiEventKind.Tempo, 0, (data[0] << 16) | (data[1] << 8) | data[2], 0, ""),
        0x58 when data.Length >= 2 => new MidiEvent(tick, MidiEventKind.Meter, 0, data[0], data[1], ""),
        _ => null,
    };

    /// <summary>UTF-8 where it is that, else Latin-1: the specification names no encoding beyond ASCII.</summary>
    private static string Text(ReadOnlySpan<byte> data)
    {
        var text = Encoding.UTF8.GetString(data);
        return (text.Contains('�', StringComparison.Ordinal) ? Encoding.Latin1.GetString(data) : text).Trim('\0', ' ', '\r', '\n', '\t');
    }
}
