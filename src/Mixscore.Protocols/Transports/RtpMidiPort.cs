namespace Mixscore.Protocols.Transports;

/// <summary>The two ports of a session; data is one above control.</summary>
public enum RtpMidiPort
{
    /// <summary>Invitations and receiver feedback.</summary>
    Control,

    /// <summary>MIDI and clock comparison.</summary>
    Data,
}

/// <summary>Where a session stands.</summary>
public enum RtpMidiState
{
    /// <summary>Waiting to be invited.</summary>
    Waiting,

    /// <summary>Inviting, again and again until someone answers.</summary>
    Inviting,

    /// <summary>Open: MIDI goes both ways.</summary>
    Open,

    /// <summary>Ended by this end, or refused by the other; nothing more happens.</summary>
    Ended,
}

/// <summary>Sends a datagram to the other end.</summary>
public delegate void RtpMidiOutlet(RtpMidiPort port, ReadOnlySpan<byte> datagram);
