using Mixscore.Audio;
using Mixscore.Loudness;

namespace Mixscore.Page;

/// <summary>One stem as it is played: read where the rehearsal is, through its gain, measured as it is heard, and added to the two sides.</summary>
internal sealed class StemVoice : IDisposable
{
    private readonly StemReader _reader;
    private readonly int _channels;
    private readonly float[] _samples;
    private readonly float[] _heard;
    private readonly LoudnessMeter _meter;
    private readonly float _left;
    private readonly float _right;
    private double _amplitude;

    /// <param name="track">The stem and its ride.</param>
    /// <param name="mostFrames">The longest block.</param>
    internal StemVoice(MixTrack track, int mostFrames)
    {
        _reader = track.Stem.Open();
        _channels = track.Stem.Format.Channels;
        _samples = new float[mostFrames * _channels];
        _heard = new float[mostFrames];
        _meter = new LoudnessMeter(new SoundFormat(track.Stem.Format.SampleRate, 1), Measure.Momentary);
        (_left, _right) = ((float)track.Pan.Left, (float)track.Pan.Right);
    }

    internal bool IsMuted { get; set; }

    internal bool IsSolo { get; set; }

    /// <summary>Loudness of the last 0.4 s that were heard of it.</summary>
    internal Lufs? Momentary => _meter.Figures.Momentary;

    /// <summary>Adds a block; the gain goes straight in amplitude from where it was to where the fader is now.</summary>
    /// <param name="frame">Where in the stem.</param>
    /// <param name="envelope">What begins and ends without a click, a frame each.</param>
    /// <param name="gain">Where its fader is now; <c>null</c> is off, muted, or left out by a solo.</param>
    /// <param name="mixed">Left and right, interleaved.</param>
    internal void AddTo(Span<float> mixed, long frame, ReadOnlySpan<float> envelope, Decibels? gain)
    {
        var frames = envelope.Length;
        var heard = _heard.AsSpan(0, frames);
        Read(frame, heard);
        var goal = gain?.ToGain() ?? 0;
        var step = (goal - _amplitude) / frames;
        for (var i = 0; i < frames; i++) heard[i] *= (float)(_amplitude + step * (i + 1)) * envelope[i];
        _amplitude = goal;
        _meter.Push(heard);
        for (var i = 0; i < frames; i++)
        {
            mixed[2 * i] += heard[i] * _left;
            mixed[2 * i + 1] += heard[i] * _right;
        }
    }

    /// <summary>Lets the meter fall while nothing is played.</summary>
    internal void Rest(int frames)
    {
        var silence = _heard.AsSpan(0, frames);
        silence.Clear();
        _meter.Push(silence);
    }

    public void Dispose() => _reader.Dispose();

    /// <summary>Several channels are taken to one: the rehearsal shows levels, and places by site.</summary>
    private void Read(long frame, Span<float> mono)
    {
        mono.Clear();
        if (frame >= _reader.File.Frames || frame < 0) return;
        if (_reader.Frame != frame) _reader.Seek(frame);
        var got = _reader.Read(_samples.AsSpan(0, mono.Length * _channels)) / _channels;
        if (_channels == 1) _samples.AsSpan(0, got).CopyTo(mono);
        else
            for (var i = 0; i < got; i++)
                for (var channel = 0; channel < _channels; channel++) mono[i] += _samples[i * _channels + channel] / _channels;
    }
}
