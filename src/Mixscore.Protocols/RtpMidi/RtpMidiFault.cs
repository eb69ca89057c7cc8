namespace Mixscore.Protocols.RtpMidi;

/// <summary>What is wrong with bytes that claim to be RTP-MIDI. The names are stable.</summary>
public enum RtpMidiFault
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>The bytes end inside a header or a field.</summary>
    Truncated,

    /// <summary>RTP of another version than 2.</summary>
    Version,

    /// <summary>The command list is said to be longer than the packet.</summary>
    ListLength,

    /// <summary>A delta time of more than four octets.</summary>
    DeltaTime,

    /// <summary>Data where a status octet must stand, or a status that cannot stand in a list.</summary>
    Command,

    /// <summary>A journal or chapter is said to be longer than what holds it.</summary>
    JournalLength,
}
