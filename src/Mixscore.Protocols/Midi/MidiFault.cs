namespace Mixscore.Protocols.Midi;

/// <summary>What is wrong in a stream of MIDI bytes; the stream goes on. The names are stable.</summary>
public enum MidiFault
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>A data byte with no status before it.</summary>
    DataWithoutStatus,

    /// <summary>A status byte before the message before it had all its data.</summary>
    MessageCutShort,

    /// <summary>A status byte that MIDI 1.0 leaves undefined: F4, F5, F9, FD.</summary>
    UndefinedStatus,

    /// <summary>A system exclusive message cut short by another status byte; it is dropped.</summary>
    ExclusiveCutShort,

    /// <summary>A system exclusive message past the limit; it is dropped.</summary>
    ExclusiveTooLong,

    /// <summary>F7 where no system exclusive message is open.</summary>
    EndWithoutExclusive,
}
