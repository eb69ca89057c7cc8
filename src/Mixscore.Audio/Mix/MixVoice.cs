using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>One open track: reads its stem, applies its ride and adds it to the two sides.</summary>
internal sealed class MixVoice : IDisposable
{
    private readonly StemReader _reader;
    private readonly GainCurve _gains;
    private readonly (float Left, float Right)[] _fold;
    private readonly float[] _samples;
    private readonly float[] _gain;
    private readonly float[] _channel;

    /// <param name="track">What to play.</param>
    /// <param name="tempo">When its vertices come.</param>
    /// <param name="skip">How many of its first frames are left out.</param>
    /// <param name="mostFrames">The longest block.</param>
    internal MixVoice(MixTrack track, TempoMap tempo, long skip, int mostFrames)
    {
        _reader = track.Stem.Open();
        _gains = new GainCurve(track.Ride, tempo, track.Delay, track.Stem.Format.SampleRate);
        _fold = Fold.Of(track.Stem.Format, track.Pan);
        _samples = new float[mostFrames * _fold.Length];
        _gain = new float[mostFrames];
        _channel = new float[mostFrames];
        _reader.Seek(Math.Min(skip, track.Stem.Frames));
    }

    /// <summary>Adds its next frames; past its end it is silent.</summary>
    internal void AddTo(Span<float> left, Span<float> right)
    {
        var first = _reader.Frame;
        var frames = _reader.Read(_samples.AsSpan(0, left.Length * _fold.Length)) / _fold.Length;
        if (frames == 0) return;
        var gain = _gain.AsSpan(0, frames);
        _gains.Fill(first, gain);
        for (var channel = 0; channel < _fold.Length; channel++)
        {
            ReadOnlySpan<float> sound = _samples.AsSpan(0, frames);
            if (_fold.Length > 1)
            {
                for (var i = 0; i < frames; i++) _channel[i] = _samples[i * _fold.Length + channel];
                sound = _channel.AsSpan(0, frames);
            }
            Add(sound, gain, _fold[channel].Left, left[..frames]);
            Add(sound, gain, _fold[channel].Right, right[..frames]);
        }
    }

    public void Dispose() => _reader.Dispose();

    private static void Add(ReadOnlySpan<float> sound, ReadOnlySpan<float> gain, float side, Span<float> sum)
    {
        if (side == 0) return;
        var sounds = MemoryMarshal.Cast<float, Vector<float>>(sound);
        var gains = MemoryMarshal.Cast<float, Vector<float>>(gain);
        var sums = MemoryMarshal.Cast<float, Vector<float>>(sum);
        for (var i = 0; i < sounds.Length; i++) sums[i] += sounds[i] * gains[i] * side;
        for (var i = sounds.Length * Vector<float>.Count; i < sound.Length; i++) sum[i] += sound[i] * gain[i] * side;
    }
}
