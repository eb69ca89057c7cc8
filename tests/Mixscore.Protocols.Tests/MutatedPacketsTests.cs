using CsCheck;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Tests.Osc;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests;

/// <summary>
/// Fuzz: good packets of every codec, changed, cut, grown and mixed. Any answer is right that is one: no exception, no walk that
/// does not end, no memory kept. Seeded; a million a codec where <c>MIXSCORE_LONG</c> is set.
/// </summary>
public sealed class MutatedPacketsTests
{
    private static readonly Timecode Label = new(TimecodeRate.Frames25, 1, 2, 3, 4);

    private static readonly Dictionary<string, (byte[][] Good, Action<byte[]> Take)> Codecs = new()
    {
        ["OSC, read whole"] = (Osc(), bytes => OscCodec.TryDecode(bytes, out _, out _)),
        ["OSC, walked"] = (Osc(), WalkOsc),
        ["OSC in a stream"] = ([.. Osc().Select(packet => OscLengthFraming.Frame(packet))], new Lengths().Take),
        ["OSC in SLIP frames"] = ([.. Osc().Select(packet => OscSlip.Frame(packet))], new Slips().Take),
        ["MIDI"] = (Midi(), new Messages().Take),
        ["MIDI timecode"] = (Timecode(), new Labels().Take),
        ["RTP-MIDI packets"] = (RtpMidi(), WalkRtpMidi),
        ["RTP-MIDI sessions"] = (Sessions(), WalkSession),
        ["LTC"] = (Ltc(), HearLtc),
    };

    public static TheoryData<string> Names() => [.. Codecs.Keys];

    [Theory, MemberData(nameof(Names))]
    public void Mutated_packets_are_answered_without_a_crash_a_hang_or_memory(string codec)
    {
        var (good, take) = Codecs[codec];
        var random = new Random(2026);
        Fuzz.KeepsNoMemory(() =>
        {
            for (var left = Fuzz.Count(codec == "LTC" ? 500 : 10_000); left > 0; left--) take(Mutated(good, random));
        });
    }

    private static byte[] Mutated(byte[][] good, Random random)
    {
        var bytes = new List<byte>(good[random.Next(good.Length)]);
        for (var changes = random.Next(1, 5); changes > 0; changes--)
        {
            var at = random.Next(bytes.Count + 1);
            var other = good[random.Next(good.Length)];
            switch (random.Next(7))
            {
                case 0 when at < bytes.Count:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1 when at < bytes.Count:
                    bytes[at] ^= (byte)(1 << random.Next(8));
                    break;
                case 2:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 9), bytes.Count - at));
                    break;
                case 3:
                    bytes.Insert(at, (byte)random.Next(256));
                    break;
                case 4:
                    bytes.InsertRange(at, other[..random.Next(other.Length + 1)]);
                    break;
                case 5 when random.Next(4) == 0:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 6 when at < bytes.Count:
                    bytes[at] = (byte)(random.Next(2) * 0xFF);
                    break;
            }
            if (bytes.Count > 8192) bytes.RemoveRange(8192, bytes.Count - 8192);
        }
        return [.. bytes];
    }

    private static byte[][] Osc() => [.. OscGen.Packet.Array[40].Single(_ => true, "0N0XIzNsQ0O2").Select(OscCodec.Encode)];

    private static byte[][] Midi() =>
    [
        [0xB0, 7, 100, 39, 5, 7, 101], [0xF0, 0x7E, 1, 2, 3, 0xF7], [0x90, 60, 0xF8, 64, 0xE1, 1, 2, 3, 4], [0xC5, 1, 2, 3, 0xD0, 9], [0xF2, 1, 2, 0xF3, 4, 0xF6, 0xFA, 0xFC],
        Written(bytes => MidiEncoder.Nrpn(bytes, new MidiChannel(3), new Midi14(300), new Midi14(9000))), Written(bytes => MidiEncoder.ControlChange14(bytes, default, new Midi7(1), new Midi14(9000))),
    ];

    private static byte[][] Timecode() => [Written(bytes => TimecodeFullFrame.Write(bytes, Label)), .. Enumerable.Range(0, 8).Select(part => (byte[])[0xF1, (byte)((part << 4) | 1)])];

    private static byte[][] RtpMidi()
    {
        var good = new List<byte[]>();
        var outgoing = new RtpMidiOutgoing(1, 100);
        var packet = new byte[RtpMidiOutgoing.MostBytes];
        for (var i = 0; i < 12; i++)
        {
            ReadOnlySpan<MidiMessage> messages = [MidiMessage.ControlChange(default, new Midi7(i), new Midi7(i)), MidiMessage.PitchBend(new MidiChannel(i + 1), new Midi14(i)), MidiMessage.NoteOn(default, new Midi7(60), new Midi7(i))];
            good.Add(packet[..outgoing.Write(ref messages, (uint)i, packet)]);
        }
        good.Add(packet[..outgoing.WriteExclusive(Timecode()[0], 9, packet)]);
        return [.. good];
    }

    private static byte[][] Sessions() =>
    [
        new RtpMidiInvitation(RtpMidiSessionKind.Invite, 1, 2, "desk").Encode(), new RtpMidiInvitation(RtpMidiSessionKind.End, 1, 2, null).Encode(),
        Written(bytes => { new RtpMidiClockPacket(1, 2, 3).Write(bytes); return RtpMidiClockPacket.Bytes; }), Written(bytes => { new RtpMidiFeedback(1, 2).Write(bytes); return RtpMidiFeedback.Bytes; }),
    ];

    private static byte[][] Ltc()
    {
        var writer = new LtcWriter(Label, 48_000);
        var sound = new float[48_000 / 5];
        writer.Fill(sound);
        return [System.Runtime.InteropServices.MemoryMarshal.AsBytes(sound.AsSpan(0, 2000)).ToArray()];
    }

    private delegate int Write(Span<byte> bytes);

    private static byte[] Written(Write write)
    {
        var bytes = new byte[64];
        return bytes[..write(bytes)];
    }

    private static void WalkOsc(byte[] bytes)
    {
        if (!OscCodec.Check(bytes).IsNone) return;
        var reader = new OscReader(bytes);
        for (var steps = 0; reader.NextMessage(); steps++)
        {
            Assert.InRange(steps, 0, bytes.Length);
            reader.TryReadNumber(out _);
        }
    }

    private static void WalkRtpMidi(byte[] bytes)
    {
        if (!RtpMidiPacket.TryRead(bytes, out var packet, out _)) return;
        var (steps, segments) = (0, new ExclusiveSegments());
        var list = new RtpMidiListReader(packet);
        while (list.Read())
        {
            Assert.InRange(++steps, 0, bytes.Length);
            if (!list.Segment.IsEmpty && segments.Take(list.Segment, out var whole)) TimecodeFullFrame.TryRead(whole, out _);
        }
        var journal = new RtpMidiJournalReader(packet.Journal);
        while (journal.Read()) Assert.InRange(++steps, 0, 4 * bytes.Length);
    }

    private static void WalkSession(byte[] bytes)
    {
        RtpMidiInvitation.TryRead(bytes, out _);
        RtpMidiClockPacket.TryRead(bytes, out _);
        RtpMidiFeedback.TryRead(bytes, out _);
    }

    private static void HearLtc(byte[] bytes)
    {
        var reader = new LtcReader(48_000);
        ReadOnlySpan<float> sound = System.Runtime.InteropServices.MemoryMarshal.Cast<byte, float>(bytes);
        for (var frames = 0; reader.Read(ref sound, out _); frames++) Assert.InRange(frames, 0, bytes.Length);
    }

    /// <summary>One reader for all that comes, as a connection has it; after a wrong length a new one, as after a new connection.</summary>
    private sealed class Lengths
    {
        private OscLengthReader _reader = new(2048);

        internal void Take(byte[] bytes)
        {
            ReadOnlySpan<byte> input = bytes;
            while (_reader.Read(ref input, out var packet)) Assert.InRange(packet.Length, 0, 2048);
            if (_reader.Fault != OscFault.None) _reader = new OscLengthReader(2048);
        }
    }

    private sealed class Slips
    {
        private readonly OscSlipReader _reader = new(2048);

        internal void Take(byte[] bytes)
        {
            ReadOnlySpan<byte> input = bytes;
            while (_reader.Read(ref input, out var packet)) Assert.InRange(packet.Length, 1, 2048);
            Assert.True(input.IsEmpty);
        }
    }

    private sealed class Messages
    {
        private readonly MidiParser _parser = new(64);
        private readonly MidiAssembler _assembler = new();

        internal void Take(byte[] bytes)
        {
            ReadOnlySpan<byte> input = bytes;
            for (var count = 0; _parser.Read(ref input, out var message); count++)
            {
                Assert.InRange(count, 0, bytes.Length);
                _assembler.Take(message, out _);
            }
        }
    }

    private sealed class Labels
    {
        private readonly MidiParser _parser = new(64);

        internal void Take(byte[] bytes)
        {
            ReadOnlySpan<byte> input = bytes;
            while (_parser.Read(ref input, out var message))
                if (message.Kind == MidiKind.SystemExclusive && TimecodeFullFrame.TryRead(_parser.Exclusive, out var label)) Assert.InRange(label.Hours, 0, 23);
        }
    }
}
