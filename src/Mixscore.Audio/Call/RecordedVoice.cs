using System.Collections.Concurrent;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A person's recordings in a folder, one a word, by their names: <c>17.wav</c>, <c>letter-C.wav</c>, <c>time-2.wav</c>, <c>rest-4.wav</c>. Several threads may use it.</summary>
/// <param name="folder">The folder.</param>
/// <param name="namedAt">Where it is named.</param>
public sealed class RecordedVoice(string folder, Place namedAt) : ICallVoice
{
    private readonly ConcurrentDictionary<string, float[]?> _words = new(StringComparer.Ordinal);

    /// <inheritdoc/>
    public int Paces => 1;

    /// <inheritdoc/>
    public float[]? Say(CallPart part, int pace) => _words.GetOrAdd(part.Key, Read);

    private float[]? Read(string key)
    {
        if (key.AsSpan().IndexOfAny(Path.GetInvalidFileNameChars()) >= 0) return null;
        var path = Path.Combine(folder, key + ".wav");
        if (!File.Exists(path)) return null;
        using var reader = StemFile.Read(path, namedAt).Open();
        var channels = reader.File.Format.Channels;
        var samples = new float[reader.File.Frames * channels];
        reader.Read(samples);
        var mono = new float[reader.File.Frames];
        for (var i = 0; i < samples.Length; i++) mono[i / channels] += samples[i] / channels;
        return SpokenWord.Of(mono, reader.File.Format.SampleRate);
    }
}
