using System.Buffers.Binary;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// Takes packets out of a stream framed by <see cref="OscLengthFraming"/>, however the bytes are split. A wrong length
/// cannot be recovered from: the reader then stays failed, and the stream has to be closed. Not safe for several threads.
/// </summary>
public sealed class OscLengthReader
{
    private readonly int _longest;
    private readonly byte[] _header = new byte[OscLengthFraming.HeaderBytes];
    private byte[] _buffer = [];
    private int _headerFilled;
    private int _wanted;
    private int _filled;

    /// <summary>A reader at the beginning of a stream.</summary>
    /// <param name="longest">Longest packet taken, in bytes; more is a fault. Memory grows with the bytes that arrive, not
    /// with the length that is claimed.</param>
    public OscLengthReader(int longest = 65536)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longest, 4);
        _longest = longest;
    }

    /// <summary><see cref="OscFault.ElementSize"/> for a length that is negative or no multiple of 4,
    /// <see cref="OscFault.TooLong"/> past the limit; otherwise none.</summary>
    public OscFault Fault { get; private set; }

    /// <summary>Bytes taken since the beginning of the stream; after a fault, those before the frame at fault.</summary>
    public long Position { get; private set; }

    /// <summary>True between packets: a stream that ends here ends well.</summary>
    public bool IsBetweenPackets => _headerFilled == 0 && Fault == OscFault.None;

    /// <summary>Takes bytes off the front of the input until a packet is whole. Call again until it returns false.</summary>
    /// <param name="input">What arrived; on return, what is left of it.</param>
    /// <param name="packet">The packet, good until the next call; may be empty.</param>
    /// <returns>True when there is a packet; false when more bytes are needed or the stream has failed.</returns>
    public bool Read(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        while (Fault == OscFault.None)
        {
            if (_headerFilled < _header.Length)
            {
                if (input.IsEmpty) return false;
                _headerFilled += Fill(_header, _headerFilled, _header.Length, ref input);
                if (_headerFilled < _header.Length) return false;
                _wanted = BinaryPrimitives.ReadInt32BigEndian(_header);
                _filled = 0;
                if (_wanted < 0 || _wanted % 4 != 0) return Fail(OscFault.ElementSize, ref input);
                if (_wanted > _longest) return Fail(OscFault.TooLong, ref input);
            }
            var size = Math.Min(_wanted, _filled + input.Length);
            if (_buffer.Length < size) Array.Resize(ref _buffer, Math.Min(_longest, Math.Max(size, 2 * _buffer.Length)));
            _filled += Fill(_buffer, _filled, _wanted, ref input);
            if (_filled < _wanted) return false;
            _headerFilled = 0;
            Position += OscLengthFraming.HeaderBytes + _wanted;
            packet = _buffer.AsSpan(0, _wanted);
            return true;
        }
        input = default;
        return false;
    }

    private static int Fill(byte[] target, int from, int to, ref ReadOnlySpan<byte> input)
    {
        var count = Math.Min(to - from, input.Length);
        input[..count].CopyTo(target.AsSpan(from));
        input = input[count..];
        return count;
    }

    private bool Fail(OscFault fault, ref ReadOnlySpan<byte> input)
    {
        Fault = fault;
        input = default;
        return false;
    }
}
