namespace Mixscore.Score;

/// <summary>Reads scores from files: MusicXML, plain or packed, and Standard MIDI Files. The content decides, not the name.</summary>
public static class ScoreFile
{
    private const long MostBytes = 256L << 20;

    /// <summary>Reads a score.</summary>
    /// <param name="path">A MusicXML file (.musicxml, .xml, .mxl) or a Standard MIDI File (.mid) of format 0 or 1.</param>
    /// <returns>What the file says, with warnings for all that was not taken.</returns>
    /// <exception cref="InputException">The file is no score, is broken, or asks for more than a score can need.</exception>
    /// <exception cref="IOException">The file is not there or cannot be read.</exception>
    public static WrittenScore Read(string path)
    {
        using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read);
        return Read(stream, path);
    }

    /// <summary>Reads a score from a stream that can seek.</summary>
    /// <param name="stream">From its start to its end.</param>
    /// <param name="name">The name to use in faults.</param>
    /// <exception cref="InputException">As for <see cref="Read(string)"/>.</exception>
    public static WrittenScore Read(Stream stream, string name)
    {
        if (stream.Length > MostBytes)
            throw new InputException(new Fault("MX002", new Place(name), "the file is larger than 256 MB", "give a score, not a recording"));
        try
        {
            return Kind(stream) switch
            {
                ScoreKind.Packed => Packed.Read(stream, name),
                ScoreKind.Midi => MidiScore.Read(stream, name),
                ScoreKind.Xml => MusicXmlReader.Read(stream, name),
                _ => throw new InputException(new Fault("MX001", new Place(name), "this is neither MusicXML nor a Standard MIDI File", "export the score as .musicxml, .mxl or .mid")),
            };
        }
        catch (OverflowException)
        {
            throw new InputException(new Fault("MX009", new Place(name), "the score holds lengths that cannot be counted exactly", "export it again from the program that it was written in"));
        }
    }

    private static ScoreKind Kind(Stream stream)
    {
        Span<byte> head = stackalloc byte[64];
        stream.Position = 0;
        var bytes = head[..stream.ReadAtLeast(head, head.Length, throwOnEndOfStream: false)];
        stream.Position = 0;
        if (bytes.StartsWith("PK"u8)) return ScoreKind.Packed;
        if (bytes.StartsWith("MThd"u8)) return ScoreKind.Midi;
        foreach (var b in bytes)
        {
            if (b == '<') return ScoreKind.Xml;
            if (b is not (0xEF or 0xBB or 0xBF or 0xFE or 0xFF or 0 or (byte)' ' or (byte)'\t' or (byte)'\r' or (byte)'\n')) break;
        }
        return ScoreKind.Unknown;
    }

    private enum ScoreKind
    {
        Unknown,
        Xml,
        Packed,
        Midi,
    }
}
