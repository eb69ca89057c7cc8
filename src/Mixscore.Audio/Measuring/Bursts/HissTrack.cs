using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>
/// How much a sound hisses, every 2.5 ms: the mean square, over all channels, of the difference between samples a 48,000th of a
/// second apart. That difference doubles the power of white noise and takes most of the power of speech and music away.
/// </summary>
internal sealed class HissTrack
{
    private readonly int _lag, _hop;        // samples of all channels
    private readonly float[] _straddling;   // the lag before a hop, and as much of the hop as has come
    private readonly List<float> _powers = [];
    private readonly long _firstHop;
    private long _skip;
    private int _held;

    /// <summary>One that has heard nothing yet.</summary>
    /// <param name="format">Of what is pushed.</param>
    /// <param name="firstFrame">Where it begins to listen. Several that listen to stretches of one sound, which overlap by 0.2 s, find
    /// together, through <see cref="Finish"/>, what one would find that listens to all, bit for bit and in blocks of any size.</param>
    internal HissTrack(SoundFormat format, long firstFrame = 0)
    {
        (_lag, _hop) = (LagFrames(format) * format.Channels, HopFrames(format) * format.Channels);
        _straddling = new float[_lag + _hop];
        var first = firstFrame * format.Channels;
        // Before the first frame of all there was silence; elsewhere the first whole hop has to wait for what comes before it.
        _firstHop = first == 0 ? 0 : (first + _lag + _hop - 1) / _hop;
        _skip = Math.Max(0, _firstHop * _hop - _lag - first);
        _held = first == 0 ? _lag : 0;
    }

    /// <summary>The frames of a hop: 2.5 ms, or somewhat less where that is no whole number.</summary>
    internal static int HopFrames(SoundFormat format) => format.SampleRate / 400;

    /// <summary>The frames between two samples that are compared.</summary>
    internal static int LagFrames(SoundFormat format) => Math.Max(1, (format.SampleRate + 24_000) / 48_000);

    internal void Push(ReadOnlySpan<float> samples)
    {
        var skipped = (int)Math.Min(_skip, samples.Length);
        _skip -= skipped;
        samples = samples[skipped..];
        while (samples.Length > 0)
        {
            var wanted = Math.Min(samples.Length, _straddling.Length - _held);
            samples[..wanted].CopyTo(_straddling.AsSpan(_held));
            _held += wanted;
            if (_held < _straddling.Length) return;
            _powers.Add(Power(_straddling, _lag));
            var at = wanted;
            for (; at >= _lag && samples.Length - at >= _hop; at += _hop) _powers.Add(Power(samples.Slice(at - _lag, _lag + _hop), _lag));
            var past = at >= _lag ? samples[(at - _lag)..at] : _straddling.AsSpan(_hop);
            past.CopyTo(_straddling);
            _held = _lag;
            samples = samples[at..];
        }
    }

    /// <summary>The hops of a whole sound; the last one is left out where it is not whole.</summary>
    internal static float[] Finish(SoundFormat format, long frames, params IReadOnlyCollection<HissTrack> tracks)
    {
        var hops = new float[frames / HopFrames(format)];
        foreach (var track in tracks)
            CollectionsMarshal.AsSpan(track._powers)[..(int)Math.Min(track._powers.Count, Math.Max(0, hops.Length - track._firstHop))].CopyTo(hops.AsSpan((int)Math.Min(track._firstHop, hops.Length)));
        return hops;
    }

    /// <summary>The mean square of the difference of samples that lie a lag apart; as many are told of as lie behind the first lag.</summary>
    internal static float Power(ReadOnlySpan<float> samples, int lag)
    {
        ref var first = ref MemoryMarshal.GetReference(samples);
        var (sums, more) = (Vector<float>.Zero, Vector<float>.Zero);
        var i = lag;
        for (; i <= samples.Length - 2 * Vector<float>.Count; i += 2 * Vector<float>.Count)
        {
            var one = Vector.LoadUnsafe(ref first, (nuint)i) - Vector.LoadUnsafe(ref first, (nuint)(i - lag));
            var two = Vector.LoadUnsafe(ref first, (nuint)(i + Vector<float>.Count)) - Vector.LoadUnsafe(ref first, (nuint)(i + Vector<float>.Count - lag));
            sums += one * one;
            more += two * two;
        }
        var sum = Vector.Sum(sums + more);
        for (; i < samples.Length; i++) sum += (samples[i] - samples[i - lag]) * (samples[i] - samples[i - lag]);
        return sum / (samples.Length - lag);
    }
}
