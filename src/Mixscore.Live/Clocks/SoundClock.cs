using System.Buffers.Binary;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// Hears linear timecode in a WAV that arrives as a stream: from a pipe as it comes, from a file paced by time. On a thread of
/// its own; of several channels the first that carries code counts.
/// </summary>
public sealed class SoundClock : IDisposable
{
    private const int BlockMilliseconds = 5;
    private readonly Stream _stream;
    private readonly Timecode? _zero;
    private readonly Seconds? _length;
    private readonly Action<ClockPoint> _told;
    private readonly Func<TimeSpan> _now;
    private readonly WaveHead _head;
    private volatile bool _stopped;

    /// <summary>Reads the head and begins to listen.</summary>
    /// <param name="stream">A WAV of 16, 24 or 32 bit or float, of any length.</param>
    /// <param name="zero">The label at which bar 1 begins; <c>null</c> for 00:00:00:00.</param>
    /// <param name="now">The run's time.</param>
    /// <param name="told">Takes points.</param>
    /// <param name="length">How long the piece is; see <see cref="TimecodePoints"/>.</param>
    /// <exception cref="InputException">The stream is no such sound.</exception>
    public SoundClock(Stream stream, Timecode? zero, Func<TimeSpan> now, Action<ClockPoint> told, Seconds? length = null)
    {
        (_stream, _zero, _now, _told, _length) = (stream, zero, now, told, length);
        _head = WaveHead.Read(stream);
        new Thread(Loop) { IsBackground = true, Name = "timecode" }.Start();
    }

    /// <summary>Whether the sound has ended.</summary>
    public bool HasEnded { get; private set; }

    /// <summary>Stops listening.</summary>
    public void Dispose()
    {
        _stopped = true;
        _stream.Dispose();
    }

    private void Loop()
    {
        var frames = _head.SampleRate * BlockMilliseconds / 1000;
        var block = new byte[frames * _head.FrameBytes];
        var samples = new float[frames];
        var readers = Enumerable.Range(0, _head.Channels).Select(_ => new LtcReader(_head.SampleRate)).ToArray();
        var (heard, read) = (-1, 0L);
        var start = _now();
        try
        {
            while (!_stopped)
            {
                var count = _stream.ReadAtLeast(block, block.Length, throwOnEndOfStream: false) / _head.FrameBytes;
                if (count == 0) break;
                read += count;
                var end = start + TimeSpan.FromSeconds((double)read / _head.SampleRate);
                // A file is there all at once: it is heard as if it were played.
                if (_stream.CanSeek) WaitUntil(end);
                else end = _now();
                for (var channel = 0; channel < _head.Channels; channel++)
                {
                    _head.Decode(block.AsSpan(0, count * _head.FrameBytes), channel, samples);
                    ReadOnlySpan<float> left = samples.AsSpan(0, count);
                    while (readers[channel].Read(ref left, out var frame))
                    {
                        if (heard >= 0 && heard != channel) continue;
                        heard = channel;
                        var when = end - TimeSpan.FromSeconds((read - frame.To) / _head.SampleRate);
                        _told(new ClockPoint(when, TimecodePoints.After(_zero, frame.Label, frame.IsBackwards ? 0 : 1, _length), frame.IsBackwards ? ClockSignal.Placed : ClockSignal.Moving));
                    }
                }
            }
        }
        catch (Exception problem) when (problem is IOException or ObjectDisposedException)
        {
            // The pipe was closed: no more code, which the clock sees by itself.
        }
        HasEnded = true;
    }

    private void WaitUntil(TimeSpan end)
    {
        while (!_stopped && end - _now() is { TotalMilliseconds: > 0 } left) Thread.Sleep(left);
    }

    private readonly record struct WaveHead(int SampleRate, int Channels, int Bytes, bool IsFloat)
    {
        internal int FrameBytes => Channels * Bytes;

        // RIFF WAVE (Microsoft and IBM, 1991) as far as a stream needs it: the chunks up to the sound.
        internal static WaveHead Read(Stream stream)
        {
            var head = new byte[12];
            if (stream.ReadAtLeast(head, 12, throwOnEndOfStream: false) < 12 || !head.AsSpan(0, 4).SequenceEqual("RIFF"u8) || !head.AsSpan(8, 4).SequenceEqual("WAVE"u8))
                throw Wrong("this is no WAV");
            WaveHead? format = null;
            var chunk = new byte[8];
            while (stream.ReadAtLeast(chunk, 8, throwOnEndOfStream: false) == 8)
            {
                var length = BinaryPrimitives.ReadUInt32LittleEndian(chunk.AsSpan(4));
                if (chunk.AsSpan(0, 4).SequenceEqual("data"u8)) return format ?? throw Wrong("the WAV's sound comes before its format");
                if (length > 1 << 20) throw Wrong("the WAV's head is longer than any is");
                var body = new byte[length + (length & 1)];
                if (stream.ReadAtLeast(body, body.Length, throwOnEndOfStream: false) < body.Length) break;
                if (chunk.AsSpan(0, 4).SequenceEqual("fmt "u8) && length >= 16) format = Format(body);
            }
            throw Wrong("the WAV ends before its sound");
        }

        internal void Decode(ReadOnlySpan<byte> block, int channel, Span<float> samples)
        {
            for (var (at, i) = (channel * Bytes, 0); at < block.Length; at += FrameBytes, i++)
                samples[i] = (IsFloat, Bytes) switch
                {
                    (true, _) => BinaryPrimitives.ReadSingleLittleEndian(block[at..]),
                    (_, 2) => BinaryPrimitives.ReadInt16LittleEndian(block[at..]) / 32768f,
                    (_, 3) => ((block[at] << 8) | (block[at + 1] << 16) | (block[at + 2] << 24)) / 2147483648f,
                    _ => BinaryPrimitives.ReadInt32LittleEndian(block[at..]) / 2147483648f,
                };
        }

        private static WaveHead Format(byte[] body)
        {
            var code = BinaryPrimitives.ReadUInt16LittleEndian(body);
            if (code == 0xFFFE && body.Length >= 26) code = BinaryPrimitives.ReadUInt16LittleEndian(body.AsSpan(24));
            var (channels, rate, bits) = (BinaryPrimitives.ReadUInt16LittleEndian(body.AsSpan(2)), BinaryPrimitives.ReadInt32LittleEndian(body.AsSpan(4)), BinaryPrimitives.ReadUInt16LittleEndian(body.AsSpan(14)));
            if (rate is < 32_000 or > 192_000 || channels is < 1 or > 64) throw Wrong($"{rate} Hz with {channels} channels is not heard");
            return (code, bits) switch
            {
                (1, 16 or 24 or 32) => new WaveHead(rate, channels, bits / 8, false),
                (3, 32) => new WaveHead(rate, channels, 4, true),
                _ => throw Wrong("the WAV's samples are neither 16, 24 or 32 bit nor 32-bit float"),
            };
        }

        private static InputException Wrong(string found) => new(new Fault("MX404", new Place("--clock-from"), found, "give timecode as a WAV of 32 to 192 kHz"));
    }
}
