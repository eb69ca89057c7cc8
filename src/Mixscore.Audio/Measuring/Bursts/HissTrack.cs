using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>
/// How much a sound hisses, every 2.5 ms: the mean square, over all channels, of the difference between samples a 48,000th of a
/// second apart. That difference doubles the power of white noise and takes most of the power of speech and music away.
/// Each hop is heard by itself: its first samples are there to be compared with.
/// </summary>
internal sealed class HissTrack
{
    private readonly int _hop, _lag;        // samples of all channels
    private readonly int _first;            // of a hop that is looked at: a lag before the first that is heard
    private readonly float[] _begun;        // what has come of a hop that the last block left open
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
        (_hop, _lag) = (HopFrames(format) * format.Channels, LagFrames(format) * format.Channels);
        _first = _hop - HeardFrames(format) * format.Channels - _lag;
        _begun = new float[_hop];
        var first = firstFrame * format.Channels;
        _firstHop = (first + _hop - 1) / _hop;
        _skip = _firstHop * _hop - first;
    }

    /// <summary>The frames of a hop: 2.5 ms, or somewhat less where that is no whole number.</summary>
    internal static int HopFrames(SoundFormat format) => format.SampleRate / 400;

    /// <summary>The frames between two samples that are compared.</summary>
    internal static int LagFrames(SoundFormat format) => Math.Max(1, (format.SampleRate + 24_000) / 48_000);

    /// <summary>The last frames of a hop, so many that vectors come out even.</summary>
    private static int HeardFrames(SoundFormat format) => (HopFrames(format) - LagFrames(format)) / 16 * 16;

    internal void Push(ReadOnlySpan<float> samples)
    {
        var skipped = (int)Math.Min(_skip, samples.Length);
        _skip -= skipped;
        samples = samples[skipped..];
        if (_held > 0)
        {
            var wanted = Math.Min(samples.Length, _hop - _held);
            samples[..wanted].CopyTo(_begun.AsSpan(_held));
            _held += wanted;
            if (_held < _hop) return;
            _powers.Add(Power(_begun.AsSpan(_first), _lag));
            samples = samples[wanted..];
        }
        for (; samples.Length >= _hop; samples = samples[_hop..]) _powers.Add(Power(samples[_first.._hop], _lag));
        samples.CopyTo(_begun);
        _held = samples.Length;
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
        ref var earlier = ref MemoryMarshal.GetReference(samples);
        ref var later = ref Unsafe.Add(ref earlier, lag);
        var count = samples.Length - lag;
        var (even, odd) = (Vector<float>.Zero, Vector<float>.Zero);
        var i = 0;
        for (; i <= count - 2 * Vector<float>.Count; i += 2 * Vector<float>.Count)
        {
            even = Add(even, ref earlier, ref later, i);
            odd = Add(odd, ref earlier, ref later, i + Vector<float>.Count);
        }
        var sum = Vector.Sum(even + odd);
        for (; i < count; i++) sum += (samples[i + lag] - samples[i]) * (samples[i + lag] - samples[i]);
        return sum / count;
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector<float> Add(Vector<float> sums, ref float earlier, ref float later, int at)
    {
        var difference = Vector.LoadUnsafe(ref later, (nuint)(uint)at) - Vector.LoadUnsafe(ref earlier, (nuint)(uint)at);
        return Vector.FusedMultiplyAdd(difference, difference, sums);
    }
}
