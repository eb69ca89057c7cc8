namespace Mixscore.Protocols.Midi;

/// <summary>The arithmetic of MIDI clock and song position (MIDI 1.0, system real time and song position pointer).</summary>
public static class MidiClock
{
    /// <summary>Clocks in a quarter.</summary>
    public const int PerQuarter = 24;

    /// <summary>Clocks in a sixteenth, the unit of song position.</summary>
    public const int PerSixteenth = 6;

    /// <summary>Quarters from the beginning after so many clocks; exact to a 24th.</summary>
    public static double Quarters(long clocks) => (double)clocks / PerQuarter;

    /// <summary>Clocks from the beginning at a song position.</summary>
    public static long Clocks(Midi14 songPosition) => (long)songPosition.Value * PerSixteenth;

    /// <summary>The last song position that is not behind a count of clocks.</summary>
    /// <returns><c>null</c> before the beginning and past 16,383 sixteenths, where no song position reaches.</returns>
    public static Midi14? SongPosition(long clocks)
    {
        var sixteenths = Math.DivRem(clocks, PerSixteenth).Quotient;
        return clocks >= 0 && sixteenths <= Midi14.Largest ? new Midi14((int)sixteenths) : null;
    }

    /// <summary>Seconds from a clock to the next.</summary>
    /// <param name="quartersPerMinute">The tempo, above 0.</param>
    public static double SecondsPerClock(double quartersPerMinute)
    {
        ArgumentOutOfRangeException.ThrowIfNegativeOrZero(quartersPerMinute);
        return 60.0 / (quartersPerMinute * PerQuarter);
    }
}
