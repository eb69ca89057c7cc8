using System.Buffers.Binary;

namespace Mixscore.Protocols.Osc;

public ref partial struct OscReader
{
    /// <summary>The message's address or pattern, valid by <see cref="OscPattern"/>.</summary>
    public readonly ReadOnlySpan<byte> Address => _packet[_address];

    /// <summary>Tags of the arguments not yet read, without comma. A message without a tag string is taken to have no
    /// arguments, since nothing says what its bytes mean.</summary>
    public readonly ReadOnlySpan<byte> TagsLeft => _packet[_tagAt.._tagEnd];

    /// <summary>The type of the argument just read.</summary>
    public readonly OscTag Tag => _tag;

    /// <summary>The number of tag <c>i</c>.</summary>
    public readonly int Int32 => BinaryPrimitives.ReadInt32BigEndian(Content(OscTag.Int32));

    /// <summary>The number of tag <c>f</c>.</summary>
    public readonly float Float32 => BinaryPrimitives.ReadSingleBigEndian(Content(OscTag.Float32));

    /// <summary>The text of tag <c>s</c> or <c>S</c>, valid UTF-8 without its NUL.</summary>
    public readonly ReadOnlySpan<byte> Text => Content(Tag == OscTag.Symbol ? OscTag.Symbol : OscTag.String);

    /// <summary>The bytes of tag <c>b</c>.</summary>
    public readonly ReadOnlySpan<byte> Blob => Content(OscTag.Blob);

    /// <summary>The number of tag <c>h</c>.</summary>
    public readonly long Int64 => BinaryPrimitives.ReadInt64BigEndian(Content(OscTag.Int64));

    /// <summary>The moment of tag <c>t</c>.</summary>
    public readonly OscTimeTag Moment => new(BinaryPrimitives.ReadUInt64BigEndian(Content(OscTag.TimeTag)));

    /// <summary>The number of tag <c>d</c>.</summary>
    public readonly double Float64 => BinaryPrimitives.ReadDoubleBigEndian(Content(OscTag.Float64));

    /// <summary>The code of tag <c>c</c>.</summary>
    public readonly uint Character => BinaryPrimitives.ReadUInt32BigEndian(Content(OscTag.Character));

    /// <summary>The colour of tag <c>r</c>.</summary>
    public readonly OscColour Colour => OscColour.Unpack(BinaryPrimitives.ReadUInt32BigEndian(Content(OscTag.Colour)));

    /// <summary>The message of tag <c>m</c>.</summary>
    public readonly OscMidi Midi => OscMidi.Unpack(BinaryPrimitives.ReadUInt32BigEndian(Content(OscTag.Midi)));

    /// <summary>Reads the next argument if it is text (<c>s</c> or <c>S</c>); otherwise stays where it is.</summary>
    public bool TryReadText(out ReadOnlySpan<byte> text)
    {
        text = default;
        if (TagsLeft is not [(byte)'s' or (byte)'S', ..] || !NextArgument()) return false;
        text = Text;
        return true;
    }

    /// <summary>Reads the next argument if it is a number (<c>i f h d</c>); otherwise stays where it is. The number may be
    /// infinite or not a number: a stranger sent it.</summary>
    public bool TryReadNumber(out double number)
    {
        number = 0;
        if (TagsLeft is not [(byte)'i' or (byte)'f' or (byte)'h' or (byte)'d', ..] || !NextArgument()) return false;
        number = Tag switch
        {
            OscTag.Int32 => Int32,
            OscTag.Float32 => Float32,
            OscTag.Int64 => Int64,
            _ => Float64,
        };
        return true;
    }

    /// <summary>Goes to the next argument of this message, or the edge of an array.</summary>
    /// <returns>False behind the last; the reader then still stands in the message, unlike after <see cref="Read"/>.</returns>
    public bool NextArgument()
    {
        if (_tagAt == _tagEnd) return false;
        var tag = _packet[_tagAt++];
        _tag = OscTag.None;
        if (tag == '[') return Come(OscToken.ArrayStart);
        if (tag == ']') return Come(OscToken.ArrayEnd);
        OscWire.Measure(_packet, _argumentAt, _messageEnd, tag, out _content, out _argumentAt);
        _tag = (OscTag)tag;
        return Come(OscToken.Argument);
    }

    private readonly ReadOnlySpan<byte> Content(OscTag tag) => Tag == tag
        ? _packet[_content]
        : throw new InvalidOperationException($"the argument read is of type {Tag}, not {tag}");

    private bool Message(int end)
    {
        var start = _at;
        _at = _messageEnd = end;
        var problem = OscWire.MeasureText(_packet, start, end, out _address, out var next);
        if (!problem.IsNone) return Fail(problem);
        if (!OscPattern.IsValid(Address)) return Leave(OscFault.Address, start);
        // OSC 1.0, "OSC Message": receivers should be robust in the case of a missing type tag string.
        if (next == end || _packet[next] != ',') return Come(OscToken.Message);
        problem = OscWire.MeasureText(_packet, next, end, out var tags, out _argumentAt);
        if (!problem.IsNone) return Fail(problem);
        var (from, to) = (tags.Start.Value + 1, tags.End.Value);
        if (to - from > _limits.Arguments) return Fail(OscFault.TooMany, from);
        for (var i = from; i < to; i++)
            if (!OscWire.IsKnownTag(_packet[i])) return Leave(OscFault.UnknownTag, i);
        problem = CheckArguments(from, to);
        if (!problem.IsNone) return Fail(problem);
        (_tagAt, _tagEnd) = (from, to);
        return Come(OscToken.Message);
    }

    private readonly OscProblem CheckArguments(int from, int to)
    {
        var open = 0;
        var at = _argumentAt;
        for (var i = from; i < to; i++)
        {
            if (_packet[i] == '[' && ++open > _limits.Depth) return new OscProblem(OscFault.TooDeep, i);
            if (_packet[i] == ']' && --open < 0) return new OscProblem(OscFault.ArrayBrackets, i);
            var problem = OscWire.Measure(_packet, at, _messageEnd, _packet[i], out _, out at);
            if (!problem.IsNone) return problem;
        }
        if (open > 0) return new OscProblem(OscFault.ArrayBrackets, to);
        return at < _messageEnd ? new OscProblem(OscFault.Trailing, at) : default;
    }

    private bool Leave(OscFault fault, int offset)
    {
        if (_leftOut++ == 0) _firstLeftOut = new OscProblem(fault, offset);
        return false;
    }
}
