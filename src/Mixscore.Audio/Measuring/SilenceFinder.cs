using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Finds digital silence, to the frame: 50 ms or more in which no sample exceeds a step of 16 bits, which is what
/// dithered nothing comes to. No microphone is as still as that.
/// </summary>
internal sealed class SilenceFinder(SoundFormat format)
{
    private const float MostOfNothing = 1.01f / (1 << 15);
    private const double LeastSeconds = 0.05;
    private readonly List<Stretch> _found = [];
    private long _samples;
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

    internal Stretch[] Finish()
    {
        if (_from >= 0) End(_samples);
        return [.. _found];
    }

    private void End(long until)
    {
        var (from, to) = (Time(_from), Time(until));
        if (to - from >= LeastSeconds) _found.Add(new Stretch(new Seconds(from), new Seconds(to)));
        _from = -1;
    }

    private double Time(long sample) => (double)(sample / format.Channels) / format.SampleRate;

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
