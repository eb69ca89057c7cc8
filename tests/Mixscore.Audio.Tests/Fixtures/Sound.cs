using Mixscore.Loudness;
using NAudio.Wave;

namespace Mixscore.Audio.Tests;

/// <summary>Sounds, and files of them.</summary>
internal static class Sound
{
    public static float[] Tone(double hertz, double amplitude, double seconds, int rate = 48_000) =>
        [.. Enumerable.Range(0, (int)Math.Round(seconds * rate)).Select(i => (float)(amplitude * Math.Sin(2 * Math.PI * hertz * i / rate)))];

    /// <summary>A file as the library's own writer makes it.</summary>
    public static string WriteByLibrary(string path, WaveFormat format, float[] samples)
    {
        using var writer = new WaveFileWriter(path, format);
        writer.WriteSamples(samples, 0, samples.Length);
        return path;
    }

    public static StemFile Write(string path, float[] samples, int rate = 48_000, int channels = 1)
    {
        using (var writer = new StemWriter(path, new SoundFormat(rate, channels)))
        {
            writer.Write(samples);
            writer.Finish();
        }
        return StemFile.Read(path);
    }

    public static float[] Read(string path)
    {
        using var reader = StemFile.Read(path).Open();
        var samples = new float[reader.File.Frames * reader.File.Format.Channels];
        Assert.Equal(samples.Length, reader.Read(samples));
        return samples;
    }

    /// <summary>Decibels of the mean square of a stretch over that of a full-scale sine.</summary>
    public static double Level(ReadOnlySpan<float> samples)
    {
        var sum = 0.0;
        foreach (var sample in samples) sum += (double)sample * sample;
        return 10 * Math.Log10(2 * sum / samples.Length);
    }
}
