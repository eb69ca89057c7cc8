using System.Buffers.Binary;
using System.Runtime.CompilerServices;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// Walks a packet from a stranger without taking memory: bundles, messages and arguments in the order of the bytes. A
/// message is judged whole before it is handed over. A malformed packet stops the walk, which by then may have handed
/// over earlier messages of the same bundle; where that matters, ask <see cref="OscCodec.Check"/> first.
/// </summary>
public ref partial struct OscReader
{
    private readonly ReadOnlySpan<byte> _packet;
    private readonly OscLimits _limits;
    private Ends _ends;
    private TimeTags _timeTags;
    private int _depth;
    private int _at;
    private int _elements;
    private bool _begun;
    private Range _address;
    private int _tagAt;
    private int _tagEnd;
    private int _argumentAt;
    private int _messageEnd;
    private Range _content;
    private OscTag _tag;
    private OscToken _token;
    private OscProblem _problem;
    private OscProblem _firstLeftOut;
    private int _leftOut;

    /// <summary>A reader at the beginning of a packet.</summary>
    /// <param name="packet">The bytes of one datagram or frame, any length.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    public OscReader(ReadOnlySpan<byte> packet, OscLimits? limits = null)
    {
        _packet = packet;
        _limits = limits ?? OscLimits.Default;
    }

    /// <summary>What the last <see cref="Read"/> came to.</summary>
    public readonly OscToken Token => _token;

    /// <summary>What stopped the walk; no fault while it goes on and when it ended well.</summary>
    public readonly OscProblem Problem => _problem;

    /// <summary>Why the first message that was left out was left out: <see cref="OscFault.UnknownTag"/> or
    /// <see cref="OscFault.Address"/>. Both spoil their message alone.</summary>
    public readonly OscProblem FirstLeftOut => _firstLeftOut;

    /// <summary>Messages left out so far.</summary>
    public readonly int LeftOut => _leftOut;

    /// <summary>Bundles open.</summary>
    public readonly int Depth => _depth;

    /// <summary>The time tag of the innermost open bundle; immediate outside of bundles.</summary>
    public readonly OscTimeTag TimeTag => _depth == 0 ? OscTimeTag.Immediate : _timeTags[_depth - 1];

    /// <summary>Goes to the next bundle, message or argument.</summary>
    /// <returns>False at the end, and when the packet is malformed: <see cref="Problem"/> tells which.</returns>
    public bool Read()
    {
        if (!Problem.IsNone) return false;
        return NextArgument() || NextElement();
    }

    /// <summary>Goes to the next message, past arguments not read and the edges of bundles.</summary>
    /// <returns>As <see cref="Read"/>.</returns>
    public bool NextMessage()
    {
        _tagAt = _tagEnd;
        while (Read())
            if (Token == OscToken.Message) return true;
        return false;
    }

    private bool NextElement()
    {
        _tagAt = _tagEnd = 0;
        if (!_begun) return Begin();
        while (_depth > 0)
        {
            var end = _ends[_depth - 1];
            if (_at == end)
            {
                _depth--;
                return Come(OscToken.BundleEnd);
            }
            if (end - _at < 4) return Fail(OscFault.Truncated, _at);
            var size = BinaryPrimitives.ReadInt32BigEndian(_packet[_at..]);
            if (size < 4 || size % 4 != 0 || size > end - _at - 4) return Fail(OscFault.ElementSize, _at);
            if (++_elements > _limits.Elements) return Fail(OscFault.TooMany, _at);
            _at += 4;
            if (Element(_at + size)) return true;
            if (!Problem.IsNone) return false;
        }
        _token = OscToken.None;
        return false;
    }

    private bool Begin()
    {
        _begun = true;
        if (_packet.IsEmpty) return Fail(OscFault.Empty, 0);
        if (_packet.Length > _limits.Bytes) return Fail(OscFault.TooLong, _limits.Bytes);
        if (_packet.Length % 4 != 0) return Fail(OscFault.NotAligned, _packet.Length);
        return Element(_packet.Length) || (Problem.IsNone && NextElement());
    }

    // False with no problem: the message was left out and the walk goes on behind it.
    private bool Element(int end)
    {
        if (_packet[_at] == '/') return Message(end);
        if (_packet[_at] != '#') return Fail(OscFault.NotOsc, _at);
        if (end - _at < OscWire.BundleHeader) return Fail(OscFault.Truncated, _at);
        if (!_packet[_at..].StartsWith(OscWire.BundleMark)) return Fail(OscFault.NotOsc, _at);
        if (_depth == _limits.Depth) return Fail(OscFault.TooDeep, _at);
        var due = new OscTimeTag(BinaryPrimitives.ReadUInt64BigEndian(_packet[(_at + 8)..]));
        if (_depth > 0 && due < TimeTag) return Fail(OscFault.TimeTagOrder, _at + 8);
        _ends[_depth] = end;
        _timeTags[_depth] = due;
        _depth++;
        _at += OscWire.BundleHeader;
        return Come(OscToken.BundleStart);
    }

    private bool Come(OscToken token)
    {
        _token = token;
        return true;
    }

    private bool Fail(OscFault fault, int offset) => Fail(new OscProblem(fault, offset));

    private bool Fail(OscProblem problem)
    {
        _problem = problem;
        _token = OscToken.None;
        return false;
    }

    [InlineArray(OscLimits.DeepestNesting)]
    private struct Ends
    {
        private int _first;
    }

    [InlineArray(OscLimits.DeepestNesting)]
    private struct TimeTags
    {
        private OscTimeTag _first;
    }
}
