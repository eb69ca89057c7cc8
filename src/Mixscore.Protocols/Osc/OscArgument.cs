using System.Runtime.CompilerServices;
using System.Text;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// One argument of a message, of any type of OSC 1.0. A value: two arguments are equal when tag and content are, floats
/// by their bits. The default value is <see cref="Nil"/>.
/// </summary>
public readonly struct OscArgument : IEquatable<OscArgument>
{
    private readonly OscTag _tag;
    private readonly long _bits;
    private readonly object? _content;

    internal OscArgument(OscTag tag, long bits = 0, object? content = null) => (_tag, _bits, _content) = (tag, bits, content);

    /// <summary>The type.</summary>
    public OscTag Tag => _tag == OscTag.None ? OscTag.Nil : _tag;

    /// <summary>Tag <c>N</c>.</summary>
    public static OscArgument Nil => new(OscTag.Nil);

    /// <summary>Tag <c>I</c>.</summary>
    public static OscArgument Impulse => new(OscTag.Impulse);

    /// <summary>Tag <c>i</c>.</summary>
    public static OscArgument Of(int value) => new(OscTag.Int32, value);

    /// <summary>Tag <c>f</c>.</summary>
    public static OscArgument Of(float value) => new(OscTag.Float32, BitConverter.SingleToInt32Bits(value));

    /// <summary>Tag <c>s</c>.</summary>
    /// <exception cref="ArgumentException">The text holds a NUL or half of a surrogate pair.</exception>
    public static OscArgument Of(string value) => new(OscTag.String, content: Checked(value));

    /// <summary>Tag <c>b</c>; the bytes are copied.</summary>
    public static OscArgument Of(ReadOnlySpan<byte> value) => new(OscTag.Blob, content: value.ToArray());

    /// <summary>Tag <c>h</c>.</summary>
    public static OscArgument Of(long value) => new(OscTag.Int64, value);

    /// <summary>Tag <c>t</c>.</summary>
    public static OscArgument Of(OscTimeTag value) => new(OscTag.TimeTag, unchecked((long)value.Value));

    /// <summary>Tag <c>d</c>.</summary>
    public static OscArgument Of(double value) => new(OscTag.Float64, BitConverter.DoubleToInt64Bits(value));

    /// <summary>Tag <c>r</c>.</summary>
    public static OscArgument Of(OscColour value) => new(OscTag.Colour, value.Packed);

    /// <summary>Tag <c>m</c>.</summary>
    public static OscArgument Of(OscMidi value) => new(OscTag.Midi, value.Packed);

    /// <summary>Tag <c>T</c> or <c>F</c>.</summary>
    public static OscArgument Of(bool value) => new(value ? OscTag.True : OscTag.False);

    /// <summary>Tag <c>S</c>.</summary>
    /// <exception cref="ArgumentException">The text holds a NUL or half of a surrogate pair.</exception>
    public static OscArgument Symbol(string value) => new(OscTag.Symbol, content: Checked(value));

    /// <summary>Tag <c>c</c>; the code is sent in 32 bits and not judged.</summary>
    public static OscArgument Character(uint code) => new(OscTag.Character, code);

    /// <summary>An array, sent between <c>[</c> and <c>]</c>.</summary>
    /// <exception cref="ArgumentException">Arrays are nested deeper than <see cref="OscLimits.DeepestNesting"/>.</exception>
    public static OscArgument Array(params ReadOnlySpan<OscArgument> items)
    {
        var argument = new OscArgument(OscTag.Array, content: items.ToArray());
        if (argument.Nesting > OscLimits.DeepestNesting)
            throw new ArgumentException($"arrays nest at most {OscLimits.DeepestNesting} deep", nameof(items));
        return argument;
    }

    /// <summary>The number of tag <c>i</c>.</summary>
    public int AsInt32() => (int)Expect(OscTag.Int32)._bits;

    /// <summary>The number of tag <c>f</c>.</summary>
    public float AsFloat32() => BitConverter.Int32BitsToSingle((int)Expect(OscTag.Float32)._bits);

    /// <summary>The text of tag <c>s</c> or <c>S</c>.</summary>
    public string AsText() => Tag == OscTag.Symbol ? (string)_content! : (string)Expect(OscTag.String)._content!;

    /// <summary>The bytes of tag <c>b</c>.</summary>
    public ReadOnlySpan<byte> AsBlob() => (byte[])Expect(OscTag.Blob)._content!;

    /// <summary>The number of tag <c>h</c>.</summary>
    public long AsInt64() => Expect(OscTag.Int64)._bits;

    /// <summary>The tag of tag <c>t</c>.</summary>
    public OscTimeTag AsTimeTag() => new(unchecked((ulong)Expect(OscTag.TimeTag)._bits));

    /// <summary>The number of tag <c>d</c>.</summary>
    public double AsFloat64() => BitConverter.Int64BitsToDouble(Expect(OscTag.Float64)._bits);

    /// <summary>The code of tag <c>c</c>.</summary>
    public uint AsCharacter() => (uint)Expect(OscTag.Character)._bits;

    /// <summary>The colour of tag <c>r</c>.</summary>
    public OscColour AsColour() => OscColour.Unpack((uint)Expect(OscTag.Colour)._bits);

    /// <summary>The message of tag <c>m</c>.</summary>
    public OscMidi AsMidi() => OscMidi.Unpack((uint)Expect(OscTag.Midi)._bits);

    /// <summary>True for tag <c>T</c>, false for tag <c>F</c>.</summary>
    public bool AsBoolean() => Tag == OscTag.True || Expect(OscTag.False).Tag == OscTag.True;

    /// <summary>The items of an array.</summary>
    public ReadOnlySpan<OscArgument> AsArray() => (OscArgument[])Expect(OscTag.Array)._content!;

    /// <summary>Any number (<c>i f h d</c>) as a double; <c>null</c> for every other type.</summary>
    public double? AsNumber() => Tag switch
    {
        OscTag.Int32 => AsInt32(),
        OscTag.Float32 => AsFloat32(),
        OscTag.Int64 => AsInt64(),
        OscTag.Float64 => AsFloat64(),
        _ => null,
    };

    internal int Nesting
    {
        get
        {
            if (Tag != OscTag.Array) return 0;
            var deepest = 0;
            foreach (var item in AsArray()) deepest = Math.Max(deepest, item.Nesting);
            return deepest + 1;
        }
    }

    internal uint LowBits => unchecked((uint)_bits);

    internal ulong AllBits => unchecked((ulong)_bits);

    /// <summary>Same tag and same content; floats are compared by their bits.</summary>
    public bool Equals(OscArgument other)
    {
        if (Tag != other.Tag || _bits != other._bits) return false;
        return _content switch
        {
            string text => text == (string)other._content!,
            byte[] bytes => bytes.AsSpan().SequenceEqual((byte[])other._content!),
            OscArgument[] items => items.AsSpan().SequenceEqual((OscArgument[])other._content!),
            _ => true,
        };
    }

    /// <inheritdoc/>
    public override bool Equals(object? obj) => obj is OscArgument other && Equals(other);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.Add(Tag);
        hash.Add(_bits);
        if (_content is string text) hash.Add(text, StringComparer.Ordinal);
        if (_content is byte[] bytes) hash.AddBytes(bytes);
        if (_content is OscArgument[] items) foreach (var item in items) hash.Add(item);
        return hash.ToHashCode();
    }

    /// <summary>The readable form, as in <see cref="OscText"/>.</summary>
    public override string ToString() => OscText.Format(this);

    /// <summary>Same tag and content.</summary>
    public static bool operator ==(OscArgument left, OscArgument right) => left.Equals(right);

    /// <summary>Different tag or content.</summary>
    public static bool operator !=(OscArgument left, OscArgument right) => !left.Equals(right);

    /// <summary>Tag <c>i</c>.</summary>
    public static implicit operator OscArgument(int value) => Of(value);

    /// <summary>Tag <c>f</c>.</summary>
    public static implicit operator OscArgument(float value) => Of(value);

    /// <summary>Tag <c>s</c>.</summary>
    public static implicit operator OscArgument(string value) => Of(value);

    private OscArgument Expect(OscTag tag, [CallerMemberName] string call = "") => Tag == tag
        ? this
        : throw new InvalidOperationException($"{call} was asked of an argument of type '{(char)Tag}'");

    private static string Checked(string value, [CallerArgumentExpression(nameof(value))] string name = "")
    {
        ArgumentNullException.ThrowIfNull(value, name);
        for (var rest = value.AsSpan(); !rest.IsEmpty;)
        {
            if (Rune.DecodeFromUtf16(rest, out var rune, out var used) != System.Buffers.OperationStatus.Done || rune.Value == 0)
                throw new ArgumentException($"text on the wire ends at its first NUL and is UTF-8; \"{value}\" cannot be sent", name);
            rest = rest[used..];
        }
        return value;
    }
}
