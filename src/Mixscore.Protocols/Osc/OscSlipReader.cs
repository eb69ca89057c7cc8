namespace Mixscore.Protocols.Osc;

/// <summary>
/// Takes packets out of a stream framed by <see cref="OscSlip"/>, however the bytes are split. A frame with a wrong escape
/// or of too many bytes is dropped and counted, and reading goes on behind the next END. Empty frames are passed over.
/// Not safe for several threads.
/// </summary>
public sealed class OscSlipReader
{
    private readonly int _longest;
    private byte[] _buffer = [];
    private int _filled;
    private bool _escaped;
    private bool _dropping;

    /// <summary>A reader at the beginning of a stream.</summary>
    /// <param name="longest">Longest packet taken, in bytes.</param>
    public OscSlipReader(int longest = 65536)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(longest, 4);
        _longest = longest;
    }

    /// <summary>Frames dropped so far.</summary>
    public int Dropped { get; private set; }

    /// <summary>True between frames: a stream that ends here ends well.</summary>
    public bool IsBetweenPackets => _filled == 0 && !_escaped && !_dropping;

    /// <summary>Takes bytes off the front of the input until a packet is whole. Call again until it returns false.</summary>
    /// <param name="input">What arrived; on return, what is left of it.</param>
    /// <param name="packet">The packet, good until the next call; never empty.</param>
    /// <returns>True when there is a packet; false when more bytes are needed.</returns>
    public bool Read(ref ReadOnlySpan<byte> input, out ReadOnlySpan<byte> packet)
    {
        packet = default;
        for (var i = 0; i < input.Length; i++)
        {
            if (input[i] != OscSlip.End)
            {
                if (!_dropping) Take(input[i]);
                continue;
            }
            if (_escaped) Drop();
            var size = _dropping ? 0 : _filled;
            (_filled, _escaped, _dropping) = (0, false, false);
            if (size == 0) continue;
            input = input[(i + 1)..];
            packet = _buffer.AsSpan(0, size);
            return true;
        }
        input = default;
        return false;
    }

    private void Take(byte octet)
    {
        if (_escaped)
        {
            _escaped = false;
            if (octet == OscSlip.EscapedEnd) octet = OscSlip.End;
            else if (octet == OscSlip.EscapedEscape) octet = OscSlip.Escape;
            else
            {
                Drop();
                return;
            }
        }
        else if (octet == OscSlip.Escape)
        {
            _escaped = true;
            return;
        }
        if (_filled == _longest)
        {
            Drop();
            return;
        }
        if (_filled == _buffer.Length) Array.Resize(ref _buffer, Math.Min(_longest, Math.Max(256, 2 * _filled)));
        _buffer[_filled++] = octet;
    }

    private void Drop()
    {
        Dropped++;
        _dropping = true;
        _escaped = false;
    }
}
