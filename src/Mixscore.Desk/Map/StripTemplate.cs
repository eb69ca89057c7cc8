using System.Globalization;
using System.Text;

namespace Mixscore.Desk;

/// <summary>
/// Text in which <c>{strip}</c> stands for the number of a strip: <c>/strip/{strip}/fader</c>, <c>/ch/{strip:00}/level</c>
/// (two digits at least), <c>{strip - 1}</c>, <c>{(strip - 1) / 8 + 1}</c>.
/// </summary>
public sealed class StripTemplate
{
    private readonly List<(string Before, StripExpression? Expression, int Digits)> _parts = [];

    private StripTemplate(string text) => Text = text;

    /// <summary>As written.</summary>
    public string Text { get; }

    /// <summary>Whether strips differ in it.</summary>
    public bool UsesStrip => _parts.Any(part => part.Expression is { UsesStrip: true });

    /// <summary>Reads a template.</summary>
    /// <param name="text">As written.</param>
    /// <param name="template">The template, or <c>null</c>.</param>
    /// <param name="problem">What is wrong with it, in words, or <c>null</c>.</param>
    public static bool TryParse(string text, out StripTemplate? template, out string? problem)
    {
        template = new StripTemplate(text);
        problem = template.Read();
        if (problem is not null) template = null;
        return problem is null;
    }

    /// <summary>Reads a template that is known to be right.</summary>
    /// <exception cref="FormatException">It is not.</exception>
    public static StripTemplate Parse(string text) =>
        TryParse(text, out var template, out var problem) ? template! : throw new FormatException(problem);

    /// <summary>The text for a strip; <c>null</c> where its arithmetic has no answer (a division by zero).</summary>
    /// <param name="strip">From 1.</param>
    public string? For(int strip)
    {
        var text = new StringBuilder();
        foreach (var (before, expression, digits) in _parts)
        {
            text.Append(before);
            if (expression is null) continue;
            if (expression.At(strip) is not { } number) return null;
            text.Append(number.ToString(new string('0', digits), CultureInfo.InvariantCulture));
        }
        return text.ToString();
    }

    /// <summary>The text for a strip as a number; <c>null</c> where it is none.</summary>
    /// <param name="strip">From 1.</param>
    public int? NumberFor(int strip) =>
        int.TryParse(For(strip), NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out var number) ? number : null;

    /// <summary>As written.</summary>
    public override string ToString() => Text;

    private string? Read()
    {
        var at = 0;
        while (at < Text.Length)
        {
            var open = Text.IndexOf('{', at);
            var stray = Text.IndexOf('}', at);
            if (stray >= 0 && (open < 0 || stray < open)) return $"\"{Text}\" has a \"}}\" without a \"{{\"";
            if (open < 0) break;
            var close = Text.IndexOf('}', open);
            if (close < 0) return $"\"{Text}\" has a \"{{\" that is never closed";
            var inner = Text[(open + 1)..close];
            var colon = inner.IndexOf(':', StringComparison.Ordinal);
            var format = colon < 0 ? "0" : inner[(colon + 1)..].Trim();
            if (format.Length is 0 or > 9 || format.Any(c => c != '0')) return $"\":{format}\" is not a number of digits; write :00 for two";
            var (expression, problem) = StripExpression.Read(colon < 0 ? inner : inner[..colon]);
            if (expression is null) return problem + "; write {strip}, or arithmetic such as {strip - 1}";
            _parts.Add((Text[at..open], expression, format.Length));
            at = close + 1;
        }
        if (at < Text.Length) _parts.Add((Text[at..], null, 0));
        return null;
    }
}
