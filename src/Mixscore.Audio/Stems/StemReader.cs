using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Streams a stem as floats, full scale 1. Not for several threads at once.</summary>
public sealed class StemReader : IDisposable
{
    private readonly WaveHeader _wave;
    private readonly int _frameBytes;
    private readonly byte[] _bytes;
    private readonly float[] _all;   // every channel, where one is wanted
    private long _frame;

    internal StemReader(WaveHeader wave, StemFile part)
    {
        (_wave, File) = (wave, part);
        _frameBytes = wave.File.Format.Channels * SampleCodec.BytesPer(wave.File.Encoding);
        _bytes = new byte[Math.Max(1, 65_536 / _frameBytes) * _frameBytes];
        _all = part.Channel is null ? [] : new float[_bytes.Length / _frameBytes * wave.File.Format.Channels];
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
        _frame = frame;
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
            var some = Math.Min(frames - done, _bytes.Length / _frameBytes);
            var bytes = _bytes.AsSpan(0, some * _frameBytes);
            Fill(bytes, (File.Start + _frame) * _frameBytes);
            var target = samples.Slice(done * channels, some * channels);
            Decode(bytes, some, target);
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

    private void Fill(Span<byte> bytes, long at)
    {
        for (var have = 0; have < bytes.Length;)
        {
            int got;
            try
            {
                got = _wave.Read(at + have, bytes[have..]);
            }
            catch (IOException e)
            {
                throw new UnavailableException([new Fault("MX201", _wave.Place, $"{File.Path} cannot be read on: {e.Message}", "see that its disk is well")], e);
            }
            if (got == 0) throw new InputException(new Fault("MX203", _wave.Place, $"{File.Path} ended early while it was read", "copy it again whole"));
            have += got;
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
