using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Finds digital silence, to the frame: 50 ms or more in which no sample exceeds a step of 16 bits, which is what
/// dithered nothing comes to. No microphone is as still as that.
/// </summary>
/// <param name="format">Of what is pushed.</param>
/// <param name="firstFrame">Where it begins to listen. Several that listen to overlapping stretches of one sound find
/// together, through <see cref="Finish"/>, what one would find that listens to all.</param>
internal sealed class SilenceFinder(SoundFormat format, long firstFrame = 0)
{
    private const float MostOfNothing = 1.01f / (1 << 15);
    private const double LeastSeconds = 0.05;
    private readonly SoundFormat _format = format;
    // In samples. Short ones are kept where they touch an end of what was heard, since they may go on beyond it.
    private readonly List<(long From, long To)> _found = [];
    private readonly long _first = firstFrame * format.Channels;
    private long _samples = firstFrame * format.Channels;
    private long _from = -1;    // the sample at which the silence began; -1 while there is sound

    internal void Push(ReadOnlySpan<float> samples)
    {
        for (var at = 0; at < samples.Length;)
        {
            var rest = samples[at..];
            if (_from < 0)
            {
                var quiet = FirstQuiet(rest);
                if (quiet < rest.Length) _from = _samples + at + quiet;
                at += quiet;
            }
            else
            {
                var loud = FirstLoud(rest);
                if (loud < rest.Length) End(_samples + at + loud);
                at += loud;
            }
        }
        _samples += samples.Length;
    }

    /// <summary>The silences that finders of one sound have found, in order.</summary>
    internal static Stretch[] Finish(params IReadOnlyCollection<SilenceFinder> finders)
    {
        foreach (var finder in finders)
            if (finder._from >= 0) finder.End(finder._samples, atEnd: true);
        var found = new List<Stretch>();
        var (from, to) = (-1L, -1L);
        foreach (var next in finders.SelectMany(finder => finder._found).Order())
        {
            if (next.From > to)
            {
                Add();
                from = next.From;
            }
            to = Math.Max(to, next.To);
        }
        Add();
        return [.. found];

        void Add()
        {
            if (from < 0) return;
            var format = finders.First()._format;
            var (begin, end) = (Time(format, from), Time(format, to));
            if (end - begin >= LeastSeconds) found.Add(new Stretch(new Seconds(begin), new Seconds(end)));
        }
    }

    private void End(long until, bool atEnd = false)
    {
        if (atEnd || _from == _first || Time(_format, until) - Time(_format, _from) >= LeastSeconds) _found.Add((_from, until));
        _from = -1;
    }

    private static double Time(SoundFormat format, long sample) => (double)(sample / format.Channels) / format.SampleRate;

    private static int FirstQuiet(ReadOnlySpan<float> samples)
    {
        // A silence of interest is longer than this stride, so one sample of each, and the last, is enough to find it by.
        const int Stride = 256;
        for (var i = 0; i < samples.Length; i = i == samples.Length - 1 ? samples.Length : Math.Min(i + Stride, samples.Length - 1))
        {
            if (Math.Abs(samples[i]) > MostOfNothing) continue;
            while (i > 0 && Math.Abs(samples[i - 1]) <= MostOfNothing) i--;
            return i;
        }
        return samples.Length;
    }

    private static int FirstLoud(ReadOnlySpan<float> samples)
    {
        var vectors = MemoryMarshal.Cast<float, Vector<float>>(samples);
        var most = new Vector<float>(MostOfNothing);
        var i = 0;
        while (i < vectors.Length && Vector.LessThanOrEqualAll(Vector.Abs(vectors[i]), most)) i++;
        for (i *= Vector<float>.Count; i < samples.Length; i++)
            if (Math.Abs(samples[i]) > MostOfNothing) return i;
        return samples.Length;
    }
}
