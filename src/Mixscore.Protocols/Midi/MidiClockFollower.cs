namespace Mixscore.Protocols.Midi;

/// <summary>
/// Where a sender of MIDI clock is. The first clock after start or continue is the position itself, each further one a
/// 24th of a quarter later; clocks while stopped keep time but move nothing. No time is read here: who needs a speed
/// notes when each clock came.
/// </summary>
public sealed class MidiClockFollower
{
    private bool _awaitsFirst;

    /// <summary>Clocks from the beginning, by the last message.</summary>
    public long Clocks { get; private set; }

    /// <summary>True from start or continue until stop.</summary>
    public bool IsRunning { get; private set; }

    /// <summary>True while running and once the first clock has come, so that <see cref="Clocks"/> is now.</summary>
    public bool IsMoving => IsRunning && !_awaitsFirst;

    /// <summary>Takes a message.</summary>
    /// <returns>True when it said something about position or running.</returns>
    public bool Take(MidiMessage message)
    {
        switch (message.Kind)
        {
            case MidiKind.Start:
                (Clocks, IsRunning, _awaitsFirst) = (0, true, true);
                return true;
            case MidiKind.Continue:
                if (!IsRunning) (IsRunning, _awaitsFirst) = (true, true);
                return true;
            case MidiKind.Stop:
                // The next clock would have been one later; continue goes on from there.
                if (IsMoving) Clocks++;
                IsRunning = false;
                return true;
            case MidiKind.SongPosition:
                Clocks = MidiClock.Clocks(message.Wide);
                _awaitsFirst = IsRunning;
                return true;
            case MidiKind.Clock when IsRunning:
                if (_awaitsFirst) _awaitsFirst = false;
                else Clocks++;
                return true;
            default:
                return false;
        }
    }
}
