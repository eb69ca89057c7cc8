namespace Mixscore.Score;

/// <summary>Reads the bytes of a MIDI file in order. Source: Standard MIDI Files 1.0.</summary>
internal sealed class ByteCursor(ReadOnlyMemory<byte> bytes, int start, string file)
{
    private int _at;

    internal bool IsAtEnd => _at >= bytes.Length;

    /// <summary>The place in the file, from 0.</summary>
    internal int Place => start + _at;

    internal byte Byte() => Take(1)[0];

    internal byte Peek() => IsAtEnd ? throw CutShort() : bytes.Span[_at];

    internal int Word() => Take(2) is var two ? (two[0] << 8) | two[1] : 0;

    internal uint Long() => Take(4) is var four ? ((uint)four[0] << 24) | ((uint)four[1] << 16) | ((uint)four[2] << 8) | four[3] : 0;

    /// <summary>A variable-length quantity: seven bits a byte, four bytes at most.</summary>
    internal int Quantity()
    {
        var value = 0;
        for (var i = 0; i < 4; i++)
        {
            var next = Byte();
            value = (value << 7) | (next & 0x7F);
            if (next < 0x80) return value;
        }
        throw Broken($"at byte {Place}, a quantity is longer than four bytes");
    }

    internal ReadOnlySpan<byte> Take(int count)
    {
        if (count > bytes.Length - _at) throw CutShort();
        var taken = bytes.Span.Slice(_at, count);
        _at += count;
        return taken;
    }

    /// <summary>The next bytes as a cursor of their own.</summary>
    internal ByteCursor Part(int count)
    {
        var from = _at;
        Take(count);
        return new ByteCursor(bytes.Slice(from, count), start + from, file);
    }

    internal int Left => bytes.Length - _at;

    internal InputException Broken(string found) => new(new Fault("MX021", new Place(file), found, "export the MIDI file again"));

    private InputException CutShort() => Broken($"the file ends too early, at byte {start + bytes.Length}");
}
