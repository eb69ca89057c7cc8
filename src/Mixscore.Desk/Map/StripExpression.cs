using System.Globalization;

namespace Mixscore.Desk;

/// <summary>
/// Arithmetic over the number of a strip: <c>strip - 1</c>, <c>(strip - 1) / 8 + 1</c>. Whole numbers; <c>+ - * / %</c>
/// and parentheses, with the usual precedence; division rounds down.
/// </summary>
internal sealed class StripExpression
{
    private readonly Func<int, int> _value;

    private StripExpression(string text, Func<int, int> value, bool usesStrip) => (Text, _value, UsesStrip) = (text, value, usesStrip);

    /// <summary>As written.</summary>
    public string Text { get; }

    /// <summary>Whether the strip's number appears in it.</summary>
    public bool UsesStrip { get; }

    /// <summary>Its value for a strip; <c>null</c> where it divides by zero or leaves 32 bits.</summary>
    public int? At(int strip)
    {
        try
        {
            return _value(strip);
        }
        catch (Exception e) when (e is DivideByZeroException or OverflowException)
        {
            return null;
        }
    }

    /// <summary>Reads an expression.</summary>
    /// <returns>The expression, or what is wrong with it.</returns>
    public static (StripExpression? Expression, string? Problem) Read(string text)
    {
        var parser = new Parser(text);
        return parser.Sum() is { } value && parser.AtEnd
            ? (new StripExpression(text.Trim(), value, parser.UsesStrip), null)
            : (null, parser.Problem);
    }

    private sealed class Parser(string text)
    {
        private int _at;
        private int _depth;

        public bool UsesStrip { get; private set; }

        public bool AtEnd => Peek == '\0';

        public string Problem => AtEnd
            ? $"\"{text.Trim()}\" breaks off"
            : $"\"{text[_at..].Trim()}\" in \"{text.Trim()}\" is not understood";

        private char Peek
        {
            get
            {
                while (_at < text.Length && text[_at] == ' ') _at++;
                return _at < text.Length ? text[_at] : '\0';
            }
        }

        public Func<int, int>? Sum()
        {
            var left = Product();
            while (left is not null && Peek is var sign and ('+' or '-'))
            {
                _at++;
                if (Product() is not { } right) return null;
                var before = left;
                left = sign == '+' ? strip => checked(before(strip) + right(strip)) : strip => checked(before(strip) - right(strip));
            }
            return left;
        }

        private Func<int, int>? Product()
        {
            var left = Term();
            while (left is not null && Peek is var sign and ('*' or '/' or '%'))
            {
                _at++;
                if (Term() is not { } right) return null;
                var before = left;
                left = sign switch
                {
                    '*' => strip => checked(before(strip) * right(strip)),
                    '/' => strip => FloorDivide(before(strip), right(strip)),
                    _ => strip => before(strip) - FloorDivide(before(strip), right(strip)) * right(strip),
                };
            }
            return left;
        }

        private Func<int, int>? Term()
        {
            if (Peek == '(' && _depth < 16)
            {
                _at++;
                _depth++;
                var inner = Sum();
                _depth--;
                if (inner is null || Peek != ')') return null;
                _at++;
                return inner;
            }
            if (text.AsSpan(_at).StartsWith("strip", StringComparison.Ordinal) && !(_at + 5 < text.Length && char.IsLetterOrDigit(text[_at + 5])))
            {
                _at += 5;
                UsesStrip = true;
                return strip => strip;
            }
            var end = _at;
            while (end < text.Length && char.IsAsciiDigit(text[end])) end++;
            if (!int.TryParse(text.AsSpan(_at, end - _at), NumberStyles.None, CultureInfo.InvariantCulture, out var number)) return null;
            _at = end;
            return _ => number;
        }

        private static int FloorDivide(int a, int b) => checked((int)Math.Floor(b == 0 ? throw new DivideByZeroException() : (double)a / b));
    }
}
