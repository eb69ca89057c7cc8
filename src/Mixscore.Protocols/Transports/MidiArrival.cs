using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>A MIDI message that has arrived.</summary>
public readonly ref struct MidiArrival
{
    internal MidiArrival(MidiMessage message, ReadOnlySpan<byte> exclusive = default, bool isRecovered = false)
    {
        Message = message;
        Exclusive = exclusive;
        IsRecovered = isRecovered;
    }

    /// <summary>The message.</summary>
    public MidiMessage Message { get; }

    /// <summary>A system exclusive message between F0 and F7, good until the call returns; empty for others.</summary>
    public ReadOnlySpan<byte> Exclusive { get; }

    /// <summary>True when it stands for messages that were lost on the way: the value that a journal holds now.</summary>
    public bool IsRecovered { get; }
}

/// <summary>Takes a message. Called on the transport's own thread, one at a time.</summary>
public delegate void MidiReceived(MidiArrival arrival);
