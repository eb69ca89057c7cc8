namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// Puts a system exclusive message together that comes in segments, over several commands or packets (RFC 6295, section 3.2):
/// <c>F0 … F0</c> the first, <c>F7 … F0</c> a middle, <c>F7 … F7</c> the last, <c>… F4</c> calls it off.
/// </summary>
internal sealed class ExclusiveSegments
{
    /// <summary>The longest message that is taken, F0 and F7 not counted; longer ones are dropped.</summary>
    private const int Longest = 4096;

    private readonly byte[] _data = new byte[Longest];
    private int _filled = -1;   // less than 0 while no message is open

    /// <summary>Takes a segment.</summary>
    /// <param name="segment">With both its ends.</param>
    /// <param name="whole">The message between F0 and F7, good until the next call.</param>
    /// <returns>Whether the message is whole.</returns>
    internal bool Take(ReadOnlySpan<byte> segment, out ReadOnlySpan<byte> whole)
    {
        whole = default;
        var (first, last) = (segment[0], segment[^1]);
        var data = segment[1..^1];
        if (first == 0xF0)
        {
            Drop();
            if (last == 0xF7)
            {
                whole = data;
                return true;
            }
            _filled = 0;
        }
        if (_filled < 0 || last == 0xF4 || _filled + data.Length > Longest)
        {
            Drop();
            return false;
        }
        data.CopyTo(_data.AsSpan(_filled));
        _filled += data.Length;
        if (last != 0xF7) return false;
        whole = _data.AsSpan(0, _filled);
        Drop();
        return true;
    }

    /// <summary>Gives up what is open.</summary>
    internal void Drop() => _filled = -1;
}
