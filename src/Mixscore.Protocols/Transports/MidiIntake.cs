using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>Bytes from a wire to messages, with every fault counted by its name.</summary>
internal sealed class MidiIntake(MidiReceived received, FaultCounts<MidiFault> faults)
{
    private readonly MidiParser _parser = new();

    internal void Take(ReadOnlySpan<byte> bytes)
    {
        // One byte at a time, so that no fault hides behind the one after it.
        for (var i = 0; i < bytes.Length; i++)
        {
            var before = _parser.Faults;
            var octet = bytes.Slice(i, 1);
            var whole = _parser.Read(ref octet, out var message);
            if (_parser.Faults != before) faults.Count(_parser.LastFault);
            if (whole) received(new MidiArrival(message, message.Kind == MidiKind.SystemExclusive ? _parser.Exclusive : default));
        }
    }
}
