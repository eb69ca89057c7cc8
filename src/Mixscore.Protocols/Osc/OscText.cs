using System.Globalization;
using System.Text;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// The readable form of a message: address, type tags with their comma, arguments. Culture plays no part; floats have the
/// fewest digits that read back to the same bits; text is in double quotes, with <c>\" \\ \n \r \t</c> and <c>\u001f</c>
/// for other control signs; a blob is <c>&lt;00ff&gt;</c>, an array <c>[1 2]</c>, a character <c>'a'</c> or its code.
/// </summary>
public static class OscText
{
    /// <summary>The tag string with its comma: <c>,sf</c>; a comma alone for no argument.</summary>
    public static string Types(OscMessage message)
    {
        ArgumentNullException.ThrowIfNull(message);
        var text = new StringBuilder(",");
        foreach (var argument in message.Arguments) AppendType(text, argument);
        return text.ToString();
    }

    /// <summary>The message on one line.</summary>
    /// <param name="message">The message.</param>
    /// <param name="separator">Stands between address, tags and arguments, and between the items of an array.</param>
    public static string Format(OscMessage message, char separator = ' ')
    {
        ArgumentNullException.ThrowIfNull(message);
        var text = new StringBuilder(message.Address).Append(separator).Append(Types(message));
        foreach (var argument in message.Arguments)
        {
            text.Append(separator);
            Append(text, argument, separator);
        }
        return text.ToString();
    }

    /// <summary>One argument.</summary>
    public static string Format(OscArgument argument)
    {
        var text = new StringBuilder();
        Append(text, argument, ' ');
        return text.ToString();
    }

    private static void AppendType(StringBuilder text, OscArgument argument)
    {
        text.Append((char)argument.Tag);
        if (argument.Tag != OscTag.Array) return;
        foreach (var item in argument.AsArray()) AppendType(text, item);
        text.Append(']');
    }

    private static void Append(StringBuilder text, OscArgument argument, char separator)
    {
        var culture = CultureInfo.InvariantCulture;
        switch (argument.Tag)
        {
            case OscTag.Int32: text.Append(culture, $"{argument.AsInt32()}"); break;
            case OscTag.Float32: text.Append(culture, $"{argument.AsFloat32()}"); break;
            case OscTag.Int64: text.Append(culture, $"{argument.AsInt64()}"); break;
            case OscTag.Float64: text.Append(culture, $"{argument.AsFloat64()}"); break;
            case OscTag.TimeTag: text.Append(culture, $"{argument.AsTimeTag()}"); break;
            case OscTag.Colour: text.Append(culture, $"{argument.AsColour()}"); break;
            case OscTag.Midi: text.Append(culture, $"{argument.AsMidi()}"); break;
            case OscTag.String or OscTag.Symbol: Quote(text, argument.AsText()); break;
            case OscTag.Blob: text.Append('<').Append(Convert.ToHexStringLower(argument.AsBlob())).Append('>'); break;
            case OscTag.True: text.Append("true"); break;
            case OscTag.False: text.Append("false"); break;
            case OscTag.Impulse: text.Append("impulse"); break;
            case OscTag.Array: AppendItems(text, argument.AsArray(), separator); break;
            case OscTag.Character:
                var code = argument.AsCharacter();
                if (code is >= ' ' and <= '~') text.Append('\'').Append((char)code).Append('\'');
                else text.Append(culture, $"{code}");
                break;
            default: text.Append("nil"); break;
        }
    }

    private static void AppendItems(StringBuilder text, ReadOnlySpan<OscArgument> items, char separator)
    {
        text.Append('[');
        for (var i = 0; i < items.Length; i++)
        {
            if (i > 0) text.Append(separator);
            Append(text, items[i], separator);
        }
        text.Append(']');
    }

    private static void Quote(StringBuilder text, string content)
    {
        text.Append('"');
        foreach (var sign in content)
        {
            switch (sign)
            {
                case '"': text.Append("\\\""); break;
                case '\\': text.Append(@"\\"); break;
                case '\n': text.Append(@"\n"); break;
                case '\r': text.Append(@"\r"); break;
                case '\t': text.Append(@"\t"); break;
                default:
                    if (char.IsControl(sign)) text.Append(CultureInfo.InvariantCulture, $"\\u{(int)sign:x4}");
                    else text.Append(sign);
                    break;
            }
        }
        text.Append('"');
    }
}
