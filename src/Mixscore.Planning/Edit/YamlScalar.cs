using System.Globalization;
using System.Text;

namespace Mixscore.Planning;

/// <summary>Writes a text as a YAML scalar: plain where that reads back as the same text, else in double quotes.</summary>
internal static class YamlScalar
{
    private const string Indicators = "-?:,[]{}#&*!|>'\"%@`";

    /// <param name="text">Any text.</param>
    /// <param name="inFlow">Whether it stands between braces or brackets, where commas part values.</param>
    internal static string Write(string text, bool inFlow) => IsPlain(text, inFlow) ? text : Quoted(text);

    private static bool IsPlain(string text, bool inFlow)
    {
        if (text.Length == 0 || text != text.Trim()
            || text.Any(c => char.IsControl(c) || char.IsSurrogate(c) || c is '\u2028' or '\u2029' or '\uFEFF'))
            return false;
        var startsAsPlain = !Indicators.Contains(text[0])
            || (text[0] == '-' && text.Length > 1 && (char.IsLetterOrDigit(text[1]) || text[1] == '.'));
        if (!startsAsPlain || text.StartsWith("---", StringComparison.Ordinal) || text.StartsWith("...", StringComparison.Ordinal))
            return false;
        if (text.EndsWith(':') || text.Contains(": ", StringComparison.Ordinal) || text.Contains(" #", StringComparison.Ordinal)
            || text is "<<")
            return false;
        return !inFlow || !text.Any(c => c is ',' or '[' or ']' or '{' or '}');
    }

    private static string Quoted(string text)
    {
        var quoted = new StringBuilder("\"");
        foreach (var c in text)
        {
            if (c is '"' or '\\') quoted.Append('\\').Append(c);
            else if (char.IsControl(c) || c is '\u2028' or '\u2029' or '\uFEFF')
                quoted.Append(CultureInfo.InvariantCulture, $"\\u{(int)c:x4}");
            else quoted.Append(c);
        }
        return quoted.Append('"').ToString();
    }
}
