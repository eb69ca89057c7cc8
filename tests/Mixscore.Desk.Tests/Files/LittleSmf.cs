using System.Buffers.Binary;
using System.Text;

namespace Mixscore.Desk.Tests.Files;

/// <summary>A reader of Standard MIDI Files of its own, from the specification, so that the writer's library does not judge itself.</summary>
internal sealed class LittleSmf
{
    public required int Format { get; init; }

    public required int TicksPerQuarter { get; init; }

    public required List<List<Event>> Tracks { get; init; }

    /// <summary>One event; a meta event has status 255 and its type first in the data.</summary>
    public sealed record Event(long Tick, byte Status, byte[] Data)
    {
        public bool IsMeta(int type) => Status == 0xFF && Data[0] == type;

        public string Text => Encoding.UTF8.GetString(Data, 1, Data.Length - 1);
    }

    public static LittleSmf Read(ReadOnlySpan<byte> file)
    {
        Assert.Equal("MThd", Encoding.ASCII.GetString(file[..4]));
        Assert.Equal(6u, BinaryPrimitives.ReadUInt32BigEndian(file[4..]));
        var tracks = new List<List<Event>>();
        var rest = file[14..];
        while (!rest.IsEmpty)
        {
            Assert.Equal("MTrk", Encoding.ASCII.GetString(rest[..4]));
            var length = (int)BinaryPrimitives.ReadUInt32BigEndian(rest[4..]);
            tracks.Add(Track(rest.Slice(8, length)));
            rest = rest[(8 + length)..];
        }
        Assert.Equal(BinaryPrimitives.ReadUInt16BigEndian(file[10..]), tracks.Count);
        return new LittleSmf { Format = BinaryPrimitives.ReadUInt16BigEndian(file[8..]), TicksPerQuarter = BinaryPrimitives.ReadUInt16BigEndian(file[12..]), Tracks = tracks };
    }

    /// <summary>When a tick sounds, in seconds, by the tempo events of the first track: ticks · tempo / division, added up.</summary>
    public double SecondsAt(double tick)
    {
        var (seconds, from, tempo) = (0.0, 0L, 500_000.0);
        foreach (var change in Tracks[0].Where(e => e.IsMeta(0x51) && e.Tick <= tick))
        {
            seconds += (change.Tick - from) * tempo / TicksPerQuarter / 1e6;
            (from, tempo) = (change.Tick, (change.Data[1] << 16) | (change.Data[2] << 8) | change.Data[3]);
        }
        return seconds + (tick - from) * tempo / TicksPerQuarter / 1e6;
    }

    private static List<Event> Track(ReadOnlySpan<byte> bytes)
    {
        var events = new List<Event>();
        var at = 0;
        long tick = 0;
        byte status = 0;
        while (at < bytes.Length)
        {
            tick += Number(bytes, ref at);
            if (bytes[at] >= 0x80) status = bytes[at++];
            int length;
            byte[] data;
            if (status == 0xFF)
            {
                var type = bytes[at++];
                length = (int)Number(bytes, ref at);
                data = [type, .. bytes.Slice(at, length)];
            }
            else
            {
                length = (status & 0xF0) is 0xC0 or 0xD0 ? 1 : 2;
                data = bytes.Slice(at, length).ToArray();
                Assert.All(data, one => Assert.True(one < 0x80));
            }
            at += length;
            events.Add(new Event(tick, status, data));
        }
        Assert.True(events[^1].IsMeta(0x2F));
        Assert.DoesNotContain(events[..^1], e => e.IsMeta(0x2F));
        return events;
    }

    private static long Number(ReadOnlySpan<byte> bytes, ref int at)
    {
        long value = 0;
        byte one;
        do
        {
            one = bytes[at++];
            value = (value << 7) | (byte)(one & 0x7F);
        }
        while (one >= 0x80);
        return value;
    }
}
