using System.Buffers.Binary;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// Keeps what was sent since the checkpoint and writes it as a recovery journal: controllers (chapter C), parameters (M)
/// and pitch wheels (W) of RFC 6295, appendix A. Notes and programs are not kept: nothing here sends them. Takes no
/// memory after it is made, but for parameters not seen before. Not safe for several threads.
/// </summary>
public sealed class RtpMidiJournalWriter
{
    private readonly ChannelHistory[] _channels = new ChannelHistory[MidiChannel.Count];
    private long _checkpoint;
    private long _last;

    /// <summary>A journal with nothing in it.</summary>
    /// <param name="firstSequence">The sequence number of the first packet that will be sent.</param>
    public RtpMidiJournalWriter(ushort firstSequence)
    {
        (_checkpoint, _last) = (firstSequence, firstSequence - 1L);
        for (var i = 0; i < _channels.Length; i++) _channels[i] = new ChannelHistory();
    }

    /// <summary>The first packet that the journal covers.</summary>
    public ushort Checkpoint => unchecked((ushort)_checkpoint);

    /// <summary>Begins the next packet: what is then noted was sent in it. To be called after the packet's own journal is
    /// written, since a journal covers the packets before its own.</summary>
    public void NextPacket() => _last++;

    /// <summary>Notes a message of the packet begun last.</summary>
    public void Sent(MidiMessage message)
    {
        if (message.Channel is { } channel) _channels[channel.Nibble].Note(message, _last);
    }

    /// <summary>The receiver has all packets up to this one; they need no covering any more. Numbers from before the
    /// checkpoint, and of packets not sent, say nothing.</summary>
    public void Received(ushort sequence)
    {
        var distance = unchecked((short)(sequence - (ushort)_checkpoint));
        if (distance >= 0 && _checkpoint + distance <= _last) _checkpoint += distance + 1;
    }

    /// <summary>Writes the journal for the next packet.</summary>
    /// <returns>Bytes written, at least 3; 0 when they do not fit.</returns>
    public int Write(Span<byte> destination)
    {
        if (destination.Length < RtpMidiJournal.HeaderBytes) return 0;
        var at = RtpMidiJournal.HeaderBytes;
        var count = 0;
        var isOlder = true;
        for (var i = 0; i < _channels.Length; i++)
        {
            if (!_channels[i].HasAny(_checkpoint)) continue;
            var bytes = _channels[i].Write(destination[at..], i, _checkpoint, _last);
            if (bytes == 0) return 0;
            isOlder &= (destination[at] & RtpMidiJournal.OlderThanLast) != 0;
            at += bytes;
            count++;
        }
        destination[0] = (byte)((isOlder ? RtpMidiJournal.OlderThanLast : 0) | (count > 0 ? RtpMidiJournal.HasChannels | (count - 1) : 0));
        BinaryPrimitives.WriteUInt16BigEndian(destination[1..], Checkpoint);
        return at;
    }
}
