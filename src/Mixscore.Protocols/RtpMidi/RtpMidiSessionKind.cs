namespace Mixscore.Protocols.RtpMidi;

/// <summary>The packets that open, keep and close a session in common use; the number is the two letters that are sent.</summary>
public enum RtpMidiSessionKind
{
    /// <summary>No packet.</summary>
    None = 0,

    /// <summary>IN: wants to begin.</summary>
    Invite = ('I' << 8) | 'N',

    /// <summary>OK: accepts.</summary>
    Accept = ('O' << 8) | 'K',

    /// <summary>NO: refuses.</summary>
    Refuse = ('N' << 8) | 'O',

    /// <summary>BY: ends.</summary>
    End = ('B' << 8) | 'Y',

    /// <summary>CK: compares clocks.</summary>
    Clock = ('C' << 8) | 'K',

    /// <summary>RS: says what has been received.</summary>
    Feedback = ('R' << 8) | 'S',
}
