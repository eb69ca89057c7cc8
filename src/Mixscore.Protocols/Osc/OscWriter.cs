using System.Buffers.Binary;
using System.Runtime.CompilerServices;
using System.Text;
using System.Text.Unicode;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// Writes a packet into memory that the caller owns, without taking any. Sizes of elements and padding are filled in.
/// What does not fit leaves nothing behind: <see cref="EndMessage"/> and <see cref="EndBundle"/> say so, and the packet
/// before it stays good, so that a full bundle can be closed and sent and the message written again into the next.
/// </summary>
public ref struct OscWriter
{
    private readonly Span<byte> _buffer;
    private Starts _starts;
    private int _depth;
    private int _lostBundles;
    private int _messageStart;
    private int _tagAt;
    private int _tagEnd;
    private bool _inMessage;
    private bool _full;

    /// <summary>A writer at the beginning of a buffer.</summary>
    public OscWriter(Span<byte> buffer) => _buffer = buffer;

    /// <summary>Bytes written.</summary>
    public int Length { get; private set; }

    /// <summary>The packet; whole once every message and bundle is ended.</summary>
    public readonly ReadOnlySpan<byte> Written => _buffer[..Length];

    /// <summary>Opens a bundle, within the bundle that is open if there is one.</summary>
    /// <exception cref="InvalidOperationException">A message is open, the packet is complete, or bundles nest deeper than
    /// <see cref="OscLimits.DeepestNesting"/>.</exception>
    public void BeginBundle(OscTimeTag timeTag)
    {
        Require(!_inMessage && (_depth > 0 || Length == 0), "a bundle begins the packet or stands in a bundle");
        Require(_depth < OscLimits.DeepestNesting, "bundles are nested too deep");
        var slot = _depth == 0 ? 0 : 4;
        if (_lostBundles > 0 || _buffer.Length - Length < slot + OscWire.BundleHeader)
        {
            _lostBundles++;
            return;
        }
        _starts[_depth++] = Length;
        Length += slot;
        OscWire.BundleMark.CopyTo(_buffer[Length..]);
        BinaryPrimitives.WriteUInt64BigEndian(_buffer[(Length + 8)..], timeTag.Value);
        Length += OscWire.BundleHeader;
    }

    /// <summary>Closes the innermost bundle.</summary>
    /// <returns>False when its header did not fit; then nothing of it is left.</returns>
    public bool EndBundle()
    {
        Require(!_inMessage && (_depth > 0 || _lostBundles > 0), "no bundle is open");
        if (_lostBundles > 0)
        {
            _lostBundles--;
            return false;
        }
        _depth--;
        CloseElement(_starts[_depth]);
        return true;
    }

    /// <summary>Opens a message, in the open bundle if there is one. Its arguments must follow in the order of the tags.</summary>
    /// <param name="address">An address or pattern.</param>
    /// <param name="tags">Type tags without comma, such as <c>sf</c>; <c>T F N I [ ]</c> are written by this alone.</param>
    /// <exception cref="ArgumentException">Not a valid address, an unknown tag, or brackets that do not pair.</exception>
    /// <exception cref="InvalidOperationException">A message is open, or the packet is complete.</exception>
    public void BeginMessage(scoped ReadOnlySpan<byte> address, scoped ReadOnlySpan<byte> tags)
    {
        if (!OscPattern.IsValid(address)) throw new ArgumentException("not an address", nameof(address));
        CheckTags(tags);
        OpenMessage();
        Text(address, 0);
        var from = Length + 1;
        var room = Take(OscWire.PaddedText(tags.Length + 1));
        if (_full) return;
        room[0] = (byte)',';
        tags.CopyTo(room[1..]);
        (_tagAt, _tagEnd) = (from, from + tags.Length);
        SkipSilentTags();
    }

    /// <inheritdoc cref="BeginMessage(ReadOnlySpan{byte}, ReadOnlySpan{byte})"/>
    public void BeginMessage(string address, scoped ReadOnlySpan<byte> tags)
    {
        ArgumentNullException.ThrowIfNull(address);
        if (!OscPattern.IsValid(address)) throw new ArgumentException($"\"{address}\" is not an address", nameof(address));
        const int enough = 256;
        Span<byte> bytes = address.Length <= enough ? stackalloc byte[address.Length] : new byte[address.Length];
        Encoding.ASCII.GetBytes(address, bytes);
        BeginMessage(bytes, tags);
    }

    /// <summary>Closes the message.</summary>
    /// <returns>False when it did not fit; then nothing of it is left.</returns>
    /// <exception cref="InvalidOperationException">No message is open, or arguments are missing.</exception>
    public bool EndMessage()
    {
        Require(_inMessage, "no message is open");
        Require(_full || _tagAt == _tagEnd, "the message lacks arguments that its tags announce");
        _inMessage = false;
        if (_full) Length = _messageStart;
        else CloseElement(_messageStart);
        return !_full;
    }

    /// <summary>An argument of tag <c>i</c>.</summary>
    public void Int32(int value) => Bits32('i', unchecked((uint)value));

    /// <summary>An argument of tag <c>f</c>.</summary>
    public void Float32(float value) => Bits32('f', BitConverter.SingleToUInt32Bits(value));

    /// <summary>An argument of tag <c>c</c>.</summary>
    public void Character(uint code) => Bits32('c', code);

    /// <summary>An argument of tag <c>r</c>.</summary>
    public void Colour(OscColour value) => Bits32('r', value.Packed);

    /// <summary>An argument of tag <c>m</c>.</summary>
    public void Midi(OscMidi value) => Bits32('m', value.Packed);

    /// <summary>An argument of tag <c>h</c>.</summary>
    public void Int64(long value) => Bits64('h', unchecked((ulong)value));

    /// <summary>An argument of tag <c>t</c>.</summary>
    public void Moment(OscTimeTag value) => Bits64('t', value.Value);

    /// <summary>An argument of tag <c>d</c>.</summary>
    public void Float64(double value) => Bits64('d', BitConverter.DoubleToUInt64Bits(value));

    /// <summary>An argument of tag <c>s</c> or <c>S</c>.</summary>
    /// <exception cref="ArgumentException">The text holds a NUL or is not UTF-8.</exception>
    public void Text(scoped ReadOnlySpan<byte> text)
    {
        if (text.Contains((byte)0) || !Utf8.IsValid(text))
            throw new ArgumentException("text is UTF-8 without NUL", nameof(text));
        if (Answer('s', 'S')) Text(text, 1);
    }

    /// <inheritdoc cref="Text(ReadOnlySpan{byte})"/>
    public void Text(string text)
    {
        ArgumentNullException.ThrowIfNull(text);
        if (text.Contains('\0')) throw new ArgumentException("text ends at its first NUL", nameof(text));
        if (!Answer('s', 'S')) return;
        var room = Take(OscWire.PaddedText(Encoding.UTF8.GetByteCount(text)));
        if (_full) return;
        Encoding.UTF8.GetBytes(text, room);
        Advance();
    }

    /// <summary>An argument of tag <c>b</c>.</summary>
    public void Blob(scoped ReadOnlySpan<byte> bytes)
    {
        if (!Answer('b')) return;
        var room = Take(4 + OscWire.Padded(bytes.Length));
        if (_full) return;
        BinaryPrimitives.WriteInt32BigEndian(room, bytes.Length);
        bytes.CopyTo(room[4..]);
        Advance();
    }

    private static void CheckTags(ReadOnlySpan<byte> tags)
    {
        var open = 0;
        foreach (var tag in tags)
        {
            if (!OscWire.IsKnownTag(tag)) throw new ArgumentException($"'{(char)tag}' is not a type tag", nameof(tags));
            if (tag == '[') open++;
            if (tag == ']' && --open < 0) break;
        }
        if (open != 0) throw new ArgumentException("the brackets of an array do not pair", nameof(tags));
    }

    private void OpenMessage()
    {
        Require(!_inMessage && (_depth > 0 || _lostBundles > 0 || Length == 0), "the packet is complete, or a message is open");
        _inMessage = true;
        _full = _lostBundles > 0;
        _messageStart = Length;
        _tagAt = _tagEnd = 0;
        if (_depth > 0) Take(4);
    }

    private readonly void CloseElement(int start)
    {
        if (_depth > 0) BinaryPrimitives.WriteInt32BigEndian(_buffer[start..], Length - start - 4);
    }

    private void Bits32(char tag, uint bits)
    {
        if (!Answer(tag)) return;
        var room = Take(4);
        if (_full) return;
        BinaryPrimitives.WriteUInt32BigEndian(room, bits);
        Advance();
    }

    private void Bits64(char tag, ulong bits)
    {
        if (!Answer(tag)) return;
        var room = Take(8);
        if (_full) return;
        BinaryPrimitives.WriteUInt64BigEndian(room, bits);
        Advance();
    }

    private void Text(scoped ReadOnlySpan<byte> text, int tags)
    {
        var room = Take(OscWire.PaddedText(text.Length));
        if (_full) return;
        text.CopyTo(room);
        if (tags > 0) Advance();
    }

    // False when the message is already known not to fit, so that there is nothing to write.
    private readonly bool Answer(char tag, char or = '\0')
    {
        Require(_inMessage, "no message is open");
        if (_full) return false;
        var wanted = _tagAt < _tagEnd ? (char)_buffer[_tagAt] : ' ';
        if (wanted != tag && wanted != or)
            throw new InvalidOperationException($"an argument of tag '{tag}' was written where the tags want '{wanted}'");
        return true;
    }

    private void Advance()
    {
        _tagAt++;
        SkipSilentTags();
    }

    private void SkipSilentTags()
    {
        while (_tagAt < _tagEnd && (char)_buffer[_tagAt] is 'T' or 'F' or 'N' or 'I' or '[' or ']') _tagAt++;
    }

    private Span<byte> Take(int size)
    {
        if (_full || _buffer.Length - Length < size)
        {
            _full = true;
            return [];
        }
        var room = _buffer.Slice(Length, size);
        room.Clear();
        Length += size;
        return room;
    }

    private static void Require(bool condition, string message)
    {
        if (!condition) throw new InvalidOperationException(message);
    }

    [InlineArray(OscLimits.DeepestNesting)]
    private struct Starts
    {
        private int _first;
    }
}
