using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Makes points of MIDI clock with song position: clocks from the beginning, laid on the plan's own tempo map.</summary>
public sealed class MidiClockPoints(TempoMap tempo) : IMidiPoints
{
    private readonly MidiClockFollower _follower = new();

    /// <inheritdoc/>
    public ClockPoint? Take(MidiMessage message, ReadOnlySpan<byte> exclusive, TimeSpan heard)
    {
        var wasMoving = _follower.IsMoving;
        if (!_follower.Take(message)) return null;
        var at = tempo.SecondsAt(MidiClock.Quarters(_follower.Clocks));
        if (message.Kind == MidiKind.Stop) return wasMoving ? new ClockPoint(heard, at, ClockSignal.Stopped) : null;
        if (_follower.IsMoving && message.Kind == MidiKind.Clock) return new ClockPoint(heard, at, ClockSignal.Moving);
        return message.Kind is MidiKind.SongPosition or MidiKind.Start ? new ClockPoint(heard, at, ClockSignal.Placed) : null;
    }
}

/// <summary>Makes a clock's points of MIDI messages.</summary>
public interface IMidiPoints
{
    /// <summary>Takes a message.</summary>
    /// <param name="message">The message.</param>
    /// <param name="exclusive">A system exclusive message between F0 and F7; empty for others.</param>
    /// <param name="heard">When it came, on the run's time.</param>
    /// <returns>Where the sender is; <c>null</c> where the message does not say.</returns>
    ClockPoint? Take(MidiMessage message, ReadOnlySpan<byte> exclusive, TimeSpan heard);
}
