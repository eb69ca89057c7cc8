namespace Mixscore.Protocols.Midi;

/// <summary>
/// The eight messages that carry a label over two frames: <c>0nnndddd</c>, from the low half of the frame to the high half of
/// the hour with the rate (MIDI timecode, quarter frame messages).
/// </summary>
public static class TimecodeQuarterFrame
{
    /// <summary>Messages in a frame.</summary>
    public const int PerFrame = 4;

    /// <summary>Messages in a label.</summary>
    public const int PerLabel = 8;

    /// <summary>The message for a moment, when sending.</summary>
    /// <param name="rate">How frames are counted.</param>
    /// <param name="quarter">Quarter frames since 00:00:00:00. Eight in a row carry the label of the even frame that the
    /// first of them begins.</param>
    public static MidiMessage At(TimecodeRate rate, long quarter)
    {
        var piece = (int)(((quarter % PerLabel) + PerLabel) % PerLabel);
        return Of(Timecode.FromIndex(rate, (quarter - piece) / PerFrame), piece);
    }

    /// <summary>One part of a label.</summary>
    /// <param name="label">The label.</param>
    /// <param name="piece">0 to 7.</param>
    public static MidiMessage Of(Timecode label, int piece)
    {
        var bits = piece switch
        {
            0 => label.Frames & 0x0F,
            1 => label.Frames >> 4,
            2 => label.Seconds & 0x0F,
            3 => label.Seconds >> 4,
            4 => label.Minutes & 0x0F,
            5 => label.Minutes >> 4,
            6 => label.Hours & 0x0F,
            7 => ((int)label.Rate << 1) | (label.Hours >> 4),
            _ => throw new ArgumentOutOfRangeException(nameof(piece), piece, "a label has the pieces 0 to 7"),
        };
        return MidiMessage.QuarterFrame(new Midi7((piece << 4) | bits));
    }
}
