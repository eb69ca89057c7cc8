using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;
using NAudio.Wave;

namespace Mixscore.Audio;

/// <summary>
/// Writes a WAV file of 24-bit integers. It stands under a temporary name beside its place until
/// <see cref="Finish"/>, and then appears whole; disposed before that, it leaves nothing. The same samples give the same
/// bytes: the file holds no date. Not for several threads at once.
/// </summary>
public sealed class StemWriter : IDisposable
{
    private const int BytesPerSample = 3;
    private readonly string _path;
    private readonly string _temporary;
    private readonly FileStream _stream;
    private readonly WaveFileWriter _wave;
    private readonly Dither? _dither;
    private readonly float[] _dithered;
    private readonly byte[] _bytes;
    private bool _ended;

    /// <summary>Begins a file; its folder is made where it is missing.</summary>
    /// <param name="path">Where it will stand; what is there is replaced at the end.</param>
    /// <param name="format">Sample rate and channels.</param>
    /// <param name="frames">How many frames are expected; past 4 GB the file is written as RF64 (EBU Tech 3306).</param>
    /// <param name="dither">Whether triangular noise of ±1 step goes under the sound before it is rounded; off by
    /// default, since a step of 24 bits lies far under any microphone's noise.</param>
    /// <exception cref="UnavailableException">MX221 the file cannot be made.</exception>
    public StemWriter(string path, SoundFormat format, long frames = 0, bool dither = false)
    {
        _path = Path.GetFullPath(path);
        _temporary = _path + ".part";
        Format = format;
        _dither = dither ? new Dither() : null;
        _dithered = new float[16_384 * format.Channels];
        _bytes = new byte[_dithered.Length * BytesPerSample];
        try
        {
            Directory.CreateDirectory(Path.GetDirectoryName(_path)!);
            _stream = new FileStream(_temporary, FileMode.Create, FileAccess.ReadWrite, FileShare.None);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Unavailable(e);
        }
        var large = frames * format.Channels * BytesPerSample > uint.MaxValue - 4096L;
        _wave = new WaveFileWriter(_stream, new WaveFormat(format.SampleRate, 8 * BytesPerSample, format.Channels), new WaveFileWriterOptions { EnableRf64 = large });
    }

    /// <summary>Its sample rate and channels.</summary>
    public SoundFormat Format { get; }

    /// <summary>How many frames were written.</summary>
    public long Frames { get; private set; }

    /// <summary>How many samples lay beyond full scale and were clipped.</summary>
    public long Clipped { get; private set; }

    /// <summary>Appends interleaved frames.</summary>
    /// <param name="samples">Full scale 1; a multiple of the channels.</param>
    /// <exception cref="UnavailableException">MX221 the system cannot write on.</exception>
    public void Write(ReadOnlySpan<float> samples)
    {
        ObjectDisposedException.ThrowIf(_ended, this);
        if (samples.Length % Format.Channels != 0) throw new ArgumentException($"{samples.Length} samples are not whole frames of {Format.Channels}", nameof(samples));
        Frames += samples.Length / Format.Channels;
        while (samples.Length > 0)
        {
            var some = samples[..Math.Min(samples.Length, _dithered.Length)];
            samples = samples[some.Length..];
            if (_dither is not null)
            {
                _dither.Add(some, _dithered);
                some = _dithered.AsSpan(0, some.Length);
            }
            var bytes = _bytes.AsSpan(0, some.Length * BytesPerSample);
            Clipped += SampleCodec.Encode24(some, bytes);
            Do(bytes, static (wave, data) => wave.Write(data));
        }
    }

    /// <summary>Completes the file and puts it in its place.</summary>
    /// <exception cref="UnavailableException">MX221 the system cannot write it.</exception>
    public void Finish()
    {
        ObjectDisposedException.ThrowIf(_ended, this);
        Do([], static (wave, _) => wave.Dispose());
        try
        {
            _stream.Dispose();
            File.Move(_temporary, _path, overwrite: true);
            _ended = true;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Unavailable(e);
        }
    }

    /// <summary>Lets go; an unfinished file is taken away.</summary>
    public void Dispose()
    {
        if (_ended) return;
        _ended = true;
        try
        {
            _stream.Dispose();
            File.Delete(_temporary);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The first failure is on its way to the user; what is left of the file has no name that is read.
        }
    }

    private void Do(ReadOnlySpan<byte> bytes, Deed deed)
    {
        try
        {
            deed(_wave, bytes);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw Unavailable(e);
        }
    }

    private UnavailableException Unavailable(Exception e) =>
        new([new Fault("MX221", new Place(_path), string.Create(CultureInfo.InvariantCulture, $"cannot be written: {e.Message}"), "see that there is room and that you may write there")], e);

    private delegate void Deed(WaveFileWriter wave, ReadOnlySpan<byte> bytes);
}
