using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Makes points of MIDI timecode. Wound backwards, it is placed but does not move.</summary>
/// <param name="zero">The label at which bar 1 begins; <c>null</c> for 00:00:00:00, or the whole hour that a label lies in.</param>
/// <param name="length">How long the piece is; without it and a label of its beginning it begins at 00:00:00:00.</param>
public sealed class TimecodePoints(Timecode? zero = null, Seconds? length = null) : IMidiPoints
{
    private const double BeforeTheHour = 300;
    private readonly TimecodeFollower _follower = new();

    /// <inheritdoc/>
    public ClockPoint? Take(MidiMessage message, ReadOnlySpan<byte> exclusive, TimeSpan heard)
    {
        if (TimecodeFullFrame.TryRead(exclusive, out var label))
        {
            _follower.Place(label);
            return new ClockPoint(heard, After(zero, label, 0, length), ClockSignal.Placed);
        }
        if (!_follower.Take(message) || _follower.Quarter is not { } quarter || _follower.Label is not { } last) return null;
        var whole = Timecode.FromIndex(last.Rate, quarter / TimecodeQuarterFrame.PerFrame);
        var part = (double)(quarter % TimecodeQuarterFrame.PerFrame) / TimecodeQuarterFrame.PerFrame;
        return new ClockPoint(heard, After(zero, whole, part, length), _follower.Direction < 0 ? ClockSignal.Placed : ClockSignal.Moving);
    }

    /// <summary>Seconds into the score at a label and a part of its frame, round midnight. Where no beginning is named, a label past the
    /// end of the piece, or up to five minutes before an hour, is taken from that hour: tapes begin at 01:00:00:00 (common practice, no source).</summary>
    internal static Seconds After(Timecode? zero, Timecode label, double part, Seconds? length = null)
    {
        var seconds = label.ToSeconds() + (part / Timecode.FramesPerSecond(label.Rate));
        // A beginning that was written at another rate means the same hour, minute and second.
        if (zero is { } begin) seconds -= label.Rate == begin.Rate ? begin.ToSeconds() : (begin.Hours * 3600.0) + (begin.Minutes * 60) + begin.Seconds;
        if (zero is null && length is { } piece && seconds > piece.Value) seconds -= Math.Floor((seconds + BeforeTheHour) / 3600) * 3600;
        var day = Timecode.FramesPerDay(label.Rate) / Timecode.FramesPerSecond(label.Rate);
        // A place up to half a day before the beginning is before it, not a day after.
        if (seconds < -day / 2) seconds += day;
        if (seconds > day / 2) seconds -= day;
        return new Seconds(seconds);
    }
}
