using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Plays one part into a buffer. What moves slowly (loudness, pitch, colour) is worked out once every 64 frames and goes
/// straight between; the sound itself is the heirs'.
/// </summary>
internal abstract class Player
{
    internal const int Rate = 48_000, Stride = 64;
    private protected const double StrideSeconds = (double)Stride / Rate;
    private readonly List<PlayedNote> _notes;
    private readonly DynamicCurve _dynamics;
    private readonly TempoMap _tempo;
    private readonly Wander _mood;
    private readonly double _driftFrom, _driftTo;
    private readonly double _seconds;

    private protected Player(PerformedPart part, Timeline timeline, SeededNoise noise, bool isSung)
    {
        Noise = noise;
        _notes = PlayedLine.Of(part, timeline, noise, isSung);
        _dynamics = new DynamicCurve(part);
        _tempo = timeline.Tempo;
        _seconds = timeline.Duration.Value;
        _mood = new Wander(noise, spread: 1.5, seconds: 9);
        (_driftFrom, _driftTo) = (1.5 * noise.Even(), 1.5 * noise.Even());
    }

    private protected SeededNoise Noise { get; }

    /// <summary>Adds the part to a buffer.</summary>
    /// <param name="sound">From the start of the piece and the delay on.</param>
    /// <param name="delay">How much later than the click it is heard, seconds.</param>
    internal void Play(Span<float> sound, double delay)
    {
        var next = 0;    // the first note that has not begun
        for (var at = 0; at + Stride <= sound.Length; at += Stride)
        {
            var time = (double)at / Rate - delay;
            while (next < _notes.Count && _notes[next].From <= time) next++;
            PlayedNote? note = next > 0 && time < _notes[next - 1].To ? _notes[next - 1] : null;
            PlayedNote? coming = next < _notes.Count ? _notes[next] : null;
            var drift = _driftFrom + (_driftTo - _driftFrom) * Math.Clamp(time / _seconds, 0, 1);
            var level = _dynamics.At(_tempo.QuartersAt(new Seconds(time))) + _mood.Next(StrideSeconds) + drift + (note?.Scatter ?? 0);
            Play(sound.Slice(at, Stride), new Moment(time, level, note, coming));
        }
    }

    /// <summary>Adds 64 frames.</summary>
    private protected abstract void Play(Span<float> sound, Moment moment);

    /// <summary>What a player knows at a moment.</summary>
    /// <param name="Time">Seconds by the click.</param>
    /// <param name="Level">How loud, dB over its mezzo-forte.</param>
    /// <param name="Note">The note that sounds, or <c>null</c>.</param>
    /// <param name="Coming">The note that is next, or <c>null</c>.</param>
    private protected readonly record struct Moment(double Time, double Level, PlayedNote? Note, PlayedNote? Coming);

    /// <summary>A value that follows another, faster up than down, and goes straight through each 64 frames.</summary>
    private protected struct Follower(double up, double down)
    {
        private readonly double _up = 1 - Math.Exp(-StrideSeconds / up), _down = 1 - Math.Exp(-StrideSeconds / down);

        internal double Value { get; private set; }

        /// <summary>Goes on.</summary>
        /// <returns>Where it begins, and how far it moves in a frame.</returns>
        internal (float From, float Step) Follow(double target)
        {
            var from = Value;
            Value += (target - Value) * (target > Value ? _up : _down);
            return ((float)from, (float)((Value - from) / Stride));
        }
    }
}
