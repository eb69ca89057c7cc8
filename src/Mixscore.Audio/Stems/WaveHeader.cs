using System.Buffers.Binary;
using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;
using NAudio.Wave;

namespace Mixscore.Audio;

/// <summary>An open WAV file with its header checked. The library reads the chunks, RF64 too; the checks are ours.</summary>
internal sealed class WaveHeader : IDisposable
{
    private const int MostChannels = 6, LowestRate = 32_000, HighestRate = 192_000;   // what the meter measures
    private readonly FileStream _stream;
    private readonly WaveFileReader _reader;
    private readonly long _soundAt;

    private WaveHeader(FileStream stream, WaveFileReader reader, StemFile file, Place place) =>
        (_stream, _reader, _soundAt, File, Place) = (stream, reader, stream.Position, file, place);

    internal StemFile File { get; }

    internal Place Place { get; }

    /// <summary>Reads bytes of the sound, from one of them on; as many as there are, up to the target's length.</summary>
    internal int Read(long at, Span<byte> bytes) => RandomAccess.Read(_stream.SafeFileHandle, bytes, _soundAt + at);

    internal static WaveHeader Open(string path, Place place)
    {
        var stream = OpenStream(path, place);
        try
        {
            var reader = ReadChunks(stream, path, place);
            return new WaveHeader(stream, reader, Check(stream, reader, path, place), place);
        }
        catch
        {
            stream.Dispose();
            throw;
        }
    }

    public void Dispose()
    {
        _reader.Dispose();
        _stream.Dispose();
    }

    private static FileStream OpenStream(string path, Place place)
    {
        try
        {
            // The library asks for small pieces of the header and then for our large blocks: no buffer is needed between.
            return new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0, FileOptions.SequentialScan);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            var (found, remedy) = e is FileNotFoundException or DirectoryNotFoundException
                ? ("is not there", "put the stem there, or name the right file")
                : ("cannot be read", "see that it is a file and that you may read it");
            throw new UnavailableException([new Fault("MX201", place, $"{path} {found}", remedy)], e);
        }
    }

    private static WaveFileReader ReadChunks(FileStream stream, string path, Place place)
    {
        try
        {
            return new WaveFileReader(stream);
        }
        catch (Exception e) when (e is FormatException or InvalidDataException or IOException or ArgumentException or OverflowException)
        {
            throw new InputException(new Fault("MX202", place, $"{path} is not a WAV file that can be read ({Reason(e)})",
                "give a RIFF or RF64 WAVE file"));
        }
    }

    /// <summary>What the library said, on one line and without its full stop.</summary>
    private static string Reason(Exception e) => e.Message.ReplaceLineEndings(" ").Trim().TrimEnd('.');

    private static StemFile Check(FileStream stream, WaveFileReader reader, string path, Place place)
    {
        var format = reader.WaveFormat;
        var encoding = EncodingOf(format) ?? throw Wrong("MX204",
            string.Create(CultureInfo.InvariantCulture, $"holds {Describe(format)}"),
            "give integers of 16, 24 or 32 bits, or 32-bit floats");
        if (format.Channels is < 1 or > MostChannels)
            throw Wrong("MX207", $"has {format.Channels} channels", $"a stem has 1 to {MostChannels}");
        if (format.SampleRate is < LowestRate or > HighestRate)
            throw Wrong("MX206", $"has a sample rate of {format.SampleRate} Hz", $"a stem has {LowestRate} to {HighestRate} Hz");
        var frameBytes = format.Channels * SampleCodec.BytesPer(encoding);
        if (format.BlockAlign != frameBytes)
            throw Wrong("MX202", $"says that a frame has {format.BlockAlign} bytes where its format makes {frameBytes}", "write the file again");
        reader.Position = 0;   // moves the stream to where the sound begins
        var there = stream.Length - stream.Position;
        var said = SaidLength(stream);
        if (said == 0) throw Wrong("MX205", "holds no sound", "give a stem with sound in it");
        if (said > there) throw Wrong("MX203", $"says that it holds {said} bytes of sound, but {there} are there", "copy it again whole");
        if (reader.Length % frameBytes != 0)
            throw Wrong("MX203", $"ends within a frame, {reader.Length % frameBytes} of {frameBytes} bytes in", "copy it again whole");
        return new StemFile
        {
            Path = path,
            Format = new SoundFormat(format.SampleRate, format.Channels),
            Encoding = encoding,
            Frames = reader.Length / frameBytes,
        };

        InputException Wrong(string code, string found, string remedy) => new(new Fault(code, place, $"{path} {found}", remedy));
    }

    /// <summary>
    /// How many bytes the data chunk says that it has. The library shortens that in silence to what is there. Of a large
    /// file it stands in the ds64 chunk, the first after the header (EBU Tech 3306).
    /// </summary>
    private static long SaidLength(FileStream stream)
    {
        const int LargeLengthAt = 28;
        Span<byte> bytes = stackalloc byte[8];
        RandomAccess.Read(stream.SafeFileHandle, bytes[..4], stream.Position - 4);
        var length = BinaryPrimitives.ReadUInt32LittleEndian(bytes);
        RandomAccess.Read(stream.SafeFileHandle, bytes[..4], 0);
        if (length != uint.MaxValue || !bytes[..4].SequenceEqual("RF64"u8)) return length;
        RandomAccess.Read(stream.SafeFileHandle, bytes, LargeLengthAt);
        return BinaryPrimitives.ReadInt64LittleEndian(bytes);
    }

    private static SampleEncoding? EncodingOf(WaveFormat format) => (KindOf(format), format.BitsPerSample) switch
    {
        (WaveFormatEncoding.Pcm, 16) => SampleEncoding.Pcm16,
        (WaveFormatEncoding.Pcm, 24) => SampleEncoding.Pcm24,
        (WaveFormatEncoding.Pcm, 32) => SampleEncoding.Pcm32,
        (WaveFormatEncoding.IeeeFloat, 32) => SampleEncoding.Ieee32,
        _ => null,
    };

    /// <summary>The encoding; of an extensible format the one that its sub-format names, 6 bytes into what follows the plain format.</summary>
    private static WaveFormatEncoding KindOf(WaveFormat format)
    {
        const int SubFormatAt = 6, GuidLength = 16;
        if (format.Encoding != WaveFormatEncoding.Extensible || format is not WaveFormatExtraData { ExtraSize: >= SubFormatAt + GuidLength } extra) return format.Encoding;
        var name = new Guid(extra.ExtraData.AsSpan(SubFormatAt, GuidLength));
        return name == AudioMediaSubtypes.MEDIASUBTYPE_PCM ? WaveFormatEncoding.Pcm
            : name == AudioMediaSubtypes.MEDIASUBTYPE_IEEE_FLOAT ? WaveFormatEncoding.IeeeFloat
            : format.Encoding;
    }

    private static string Describe(WaveFormat format)
    {
        var kind = KindOf(format);
        return kind == WaveFormatEncoding.Pcm ? $"integers of {format.BitsPerSample} bits" : $"samples encoded as {kind}, {format.BitsPerSample} bits";
    }
}
