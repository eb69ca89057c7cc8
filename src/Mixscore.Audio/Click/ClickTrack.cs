using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>The click as a WAV file of 24 bits: the count-in, then the piece to its end. A click's first sample is the one nearest to its time.</summary>
public static class ClickTrack
{
    /// <summary>Samples a second.</summary>
    public const int SampleRate = 48_000;

    private const int Block = 8192;

    /// <summary>Fills the next samples of a second channel, full scale 1.</summary>
    public delegate void SecondChannel(Span<float> samples);

    /// <summary>The frame of the file that stands for a time.</summary>
    /// <param name="times">The click.</param>
    /// <param name="time">From the start of the piece; below 0 in the count-in.</param>
    public static long FrameOf(ClickTimes times, Seconds time) => (long)Math.Round((times.Lead + time).Value * SampleRate);

    /// <summary>Writes the file, whole or not at all.</summary>
    /// <param name="path">Where.</param>
    /// <param name="times">When it clicks.</param>
    /// <param name="second">What stands on a second channel, such as timecode; <c>null</c> for a file of one channel.</param>
    /// <exception cref="UnavailableException">MX221 the file cannot be written.</exception>
    public static void Write(string path, ClickTimes times, SecondChannel? second = null)
    {
        var frames = FrameOf(times, times.Duration);
        using var writer = new StemWriter(path, new SoundFormat(SampleRate, second is null ? 1 : 2), frames);
        var click = new Strokes(times);
        var (mono, other, both) = (new float[Block], new float[Block], new float[2 * Block]);
        for (long at = 0; at < frames; at += Block)
        {
            var some = (int)Math.Min(Block, frames - at);
            click.Fill(at, mono.AsSpan(0, some));
            if (second is null)
            {
                writer.Write(mono.AsSpan(0, some));
                continue;
            }
            second(other.AsSpan(0, some));
            for (var i = 0; i < some; i++) (both[2 * i], both[2 * i + 1]) = (mono[i], other[i]);
            writer.Write(both.AsSpan(0, 2 * some));
        }
        writer.Finish();
    }

    /// <summary>The sound of the click from any frame on.</summary>
    private sealed class Strokes(ClickTimes times)
    {
        private readonly float[][] _sounds = [.. Enum.GetValues<ClickKind>().Select(kind => ClickSound.Of(kind).Samples(SampleRate))];
        private readonly (long Frame, ClickKind Kind)[] _strokes = [.. times.Strokes.Select(stroke => (FrameOf(times, stroke.Time), stroke.Kind))];
        private int _next;

        internal void Fill(long at, Span<float> samples)
        {
            samples.Clear();
            while (_next < _strokes.Length && _strokes[_next].Frame + _sounds[(int)_strokes[_next].Kind].Length <= at) _next++;
            for (var i = _next; i < _strokes.Length && _strokes[i].Frame < at + samples.Length; i++)
            {
                var (frame, kind) = _strokes[i];
                var sound = _sounds[(int)kind];
                var from = Math.Max(frame, at);
                var to = Math.Min(frame + sound.Length, at + samples.Length);
                for (var f = from; f < to; f++) samples[(int)(f - at)] += sound[f - frame];
            }
        }
    }
}
