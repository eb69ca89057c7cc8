using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Streams a stem as floats, full scale 1. Not for several threads at once.</summary>
public sealed class StemReader : IDisposable
{
    // Fewer calls of the system cost less than a larger buffer that leaves the cache: readers stand side by side.
    private const int ReadAtOnce = 65_536;

    private readonly WaveHeader _wave;
    private readonly int _frameBytes;
    private readonly byte[] _ahead;  // read and not decoded yet, from _from to _to
    private readonly float[] _all;   // every channel, where one is wanted
    private int _from, _to;
    private long _frame;

    internal StemReader(WaveHeader wave, StemFile part)
    {
        (_wave, File) = (wave, part);
        _frameBytes = wave.File.Format.Channels * SampleCodec.BytesPer(wave.File.Encoding);
        _ahead = new byte[Math.Max(1, ReadAtOnce / _frameBytes) * _frameBytes];
        _all = part.Channel is null ? [] : new float[_ahead.Length / _frameBytes * wave.File.Format.Channels];
        Seek(0);
    }

    /// <summary>What is being read.</summary>
    public StemFile File { get; }

    /// <summary>The frame that is read next, from 0.</summary>
    public long Frame => _frame;

    /// <summary>Goes to a frame.</summary>
    /// <param name="frame">From 0 to the stem's end, which is allowed.</param>
    public void Seek(long frame)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(frame);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(frame, File.Frames);
        (_frame, _from, _to) = (frame, 0, 0);
    }

    /// <summary>Reads interleaved frames: as many as fit whole, or as many as are left.</summary>
    /// <param name="samples">The target; room for at least a frame.</param>
    /// <returns>How many samples were written, a multiple of the channels; 0 at the end.</returns>
    /// <exception cref="InputException">MX203 the file ends early; MX208 a sample is not a finite number.</exception>
    /// <exception cref="UnavailableException">MX201 the system cannot read on.</exception>
    public int Read(Span<float> samples)
    {
        var channels = File.Format.Channels;
        ArgumentOutOfRangeException.ThrowIfLessThan(samples.Length, channels);
        var frames = (int)Math.Min(samples.Length / channels, File.Frames - _frame);
        var done = (int)Math.Clamp(-(File.Start + _frame), 0, frames);   // silence before the file
        samples[..(done * channels)].Clear();
        _frame += done;
        while (done < frames)
        {
            if (_from == _to) ReadAhead();
            var some = Math.Min(frames - done, (_to - _from) / _frameBytes);
            var target = samples.Slice(done * channels, some * channels);
            Decode(_ahead.AsSpan(_from, some * _frameBytes), some, target);
            _from += some * _frameBytes;
            if (File.Encoding == SampleEncoding.Ieee32) RefuseNonFinite(target);
            done += some;
            _frame += some;
        }
        return frames * channels;
    }

    /// <inheritdoc/>
    public void Dispose() => _wave.Dispose();

    private void Decode(ReadOnlySpan<byte> bytes, int frames, Span<float> target)
    {
        if (File.Channel is not { } channel)
        {
            SampleCodec.Decode(bytes, File.Encoding, target);
            return;
        }
        var recorded = _wave.File.Format.Channels;
        SampleCodec.Decode(bytes, File.Encoding, _all.AsSpan(0, frames * recorded));
        for (var i = 0; i < frames; i++) target[i] = _all[i * recorded + channel - 1];
    }

    // What lies before a place that cannot be read is handed out first.
    private void ReadAhead()
    {
        var wanted = (int)Math.Min(_ahead.Length, (File.Frames - _frame) * _frameBytes);
        (_from, _to) = (0, 0);
        for (var have = 0; have < wanted;)
        {
            int got;
            try
            {
                got = _wave.Read((File.Start + _frame) * _frameBytes + have, _ahead.AsSpan(have, wanted - have));
            }
            catch (IOException e)
            {
                if (_to > 0) return;
                throw new UnavailableException([new Fault("MX201", _wave.Place, $"{File.Path} cannot be read on: {e.Message}", "see that its disk is well")], e);
            }
            if (got == 0)
            {
                if (_to > 0) return;
                throw new InputException(new Fault("MX203", _wave.Place, $"{File.Path} ended early while it was read", "copy it again whole"));
            }
            have += got;
            _to = have / _frameBytes * _frameBytes;
        }
    }

    private void RefuseNonFinite(ReadOnlySpan<float> samples)
    {
        if (AllFinite(samples)) return;
        for (var i = 0; i < samples.Length; i++)
            if (!float.IsFinite(samples[i]))
            {
                var at = new Seconds((double)(_frame + i / File.Format.Channels) / File.Format.SampleRate);
                throw new InputException(new Fault("MX208", _wave.Place, $"{File.Path} holds a sample that is not a finite number, at {at}", "export the stem again"));
            }
    }

    /// <summary>A finite number less itself is zero; infinity and NaN less themselves are NaN.</summary>
    private static bool AllFinite(ReadOnlySpan<float> samples)
    {
        var vectors = MemoryMarshal.Cast<float, Vector<float>>(samples);
        var sum = Vector<float>.Zero;
        foreach (var vector in vectors) sum += vector - vector;
        var rest = 0f;
        foreach (var sample in samples[(vectors.Length * Vector<float>.Count)..]) rest += sample - sample;
        return Vector.EqualsAll(sum, Vector<float>.Zero) && rest == 0;
    }
}
