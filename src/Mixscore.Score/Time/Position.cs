using System.Text;

namespace Mixscore.Score;

/// <summary>
/// A place in the played score as a person writes it: <c>17</c>, <c>17:3</c>, <c>17:3+1/2</c> (half a beat after beat 3),
/// <c>17@2:3</c> (second pass), <c>C</c>, <c>C+4:1</c> (four bars after letter C), <c>II/17:3</c> (second movement), <c>end</c>.
/// Without a pass the first is meant. Only a <see cref="Timeline"/> can tell where it lies.
/// </summary>
public sealed record Position
{
    /// <summary>The end of the piece.</summary>
    public static Position End { get; } = new() { IsEnd = true };

    /// <summary>Whether this is the end of the piece; then nothing else is set.</summary>
    public bool IsEnd { get; private init; }

    /// <summary>The movement, from 1, or <c>null</c> where none is written.</summary>
    public int? Movement { get; init; }

    /// <summary>A bar as printed (<c>17</c>, <c>12a</c>) or a rehearsal letter (<c>C</c>).</summary>
    public string Anchor { get; init; } = "1";

    /// <summary>The how-manieth time that the anchor's bar is played; <c>null</c> for the first, whether written or not.</summary>
    public int? Pass { get; init; }

    /// <summary>How many played bars after the anchor, 0 or more.</summary>
    public int BarsAfter { get; init; }

    /// <summary>The beat in the bar, from 1.</summary>
    public int Beat { get; init; } = 1;

    /// <summary>How far into the beat, as a part of that beat: 0 or more, less than 1.</summary>
    public Fraction WithinBeat { get; init; }

    /// <summary>Reads a position.</summary>
    /// <param name="text">As written; blanks at the ends are ignored.</param>
    /// <param name="position">The position, or <c>null</c>.</param>
    /// <param name="problem">What is wrong with the text, in words, or <c>null</c>.</param>
    public static bool TryParse(string text, out Position? position, out string? problem)
    {
        position = null;
        problem = Read(text.Trim(), out var read);
        if (problem is null) position = read;
        return problem is null;
    }

    /// <summary>Reads a position that is known to be right.</summary>
    /// <exception cref="FormatException">It is not.</exception>
    public static Position Parse(string text) =>
        TryParse(text, out var position, out var problem) ? position! : throw new FormatException(problem);

    /// <summary>The shortest text that reads back as this position.</summary>
    public override string ToString()
    {
        if (IsEnd) return "end";
        var text = new StringBuilder();
        if (Movement is { } movement) text.Append(Roman.Write(movement)).Append('/');
        text.Append(Anchor);
        if (Pass is > 1) text.Append('@').Append(Pass);
        if (BarsAfter > 0) text.Append('+').Append(BarsAfter);
        if (Beat != 1 || WithinBeat != Fraction.Zero) text.Append(':').Append(Beat);
        if (WithinBeat != Fraction.Zero) text.Append('+').Append(WithinBeat);
        return text.ToString();
    }

    /// <summary>Whether a bar's number or a letter can be written in a position.</summary>
    internal static bool IsAnchor(string text) =>
        text.Length > 0 && text.All(c => char.IsLetterOrDigit(c) || c is '.' or '_' or '\'' or '-')
        && text[0] != '\'' && !text.Contains("..", StringComparison.Ordinal)   // what quotes a text and what makes a range, in a plan
        && !text.Equals("end", StringComparison.OrdinalIgnoreCase);

    private static string? Read(string text, out Position position)
    {
        position = End;
        if (text.Length == 0) return "a position is missing";
        if (text.Equals("end", StringComparison.OrdinalIgnoreCase)) return null;

        int? movement = null;
        var (bar, beatText) = Cut(text, ':');
        var slash = bar.IndexOf('/', StringComparison.Ordinal);
        if (slash >= 0)
        {
            movement = Roman.Read(bar[..slash]);
            if (movement is null) return $"\"{bar[..slash]}\" is not a movement; write it in Roman numerals, such as II/17";
            bar = bar[(slash + 1)..];
        }

        var (anchor, afterText) = Cut(bar, '+');
        (anchor, var passText) = Cut(anchor, '@');
        if (afterText is null && passText is not null) (passText, afterText) = Cut(passText, '+');
        anchor = anchor.Trim();
        if (!IsAnchor(anchor))
            return $"\"{anchor}\" is neither a bar as printed nor a rehearsal letter";
        if (!TryCount(passText, 1, 1, out var pass)) return $"\"@{passText}\" is not a pass; write @2 for the second time through";
        if (!TryCount(afterText, 0, 0, out var after)) return $"\"+{afterText}\" is not a number of bars";

        var beat = 1;
        var within = Fraction.Zero;
        if (beatText is not null)
        {
            var (whole, partText) = Cut(beatText, '+');
            if (!TryCount(whole, 1, 1, out beat) || whole.Trim().Length == 0) return $"\":{whole}\" is not a beat; beats count from 1";
            if (partText is not null && (!Fraction.TryParse(partText.Trim(), out within) || within < Fraction.Zero || within >= new Fraction(1)))
                return $"\"+{partText}\" is not a part of a beat; write a fraction below 1, such as +1/2";
        }

        position = new Position
        {
            Movement = movement,
            Anchor = anchor,
            Pass = pass > 1 ? pass : null,
            BarsAfter = after,
            Beat = beat,
            WithinBeat = within,
        };
        return null;
    }

    private static (string Head, string? Tail) Cut(string text, char at)
    {
        var i = text.IndexOf(at, StringComparison.Ordinal);
        return i < 0 ? (text, null) : (text[..i], text[(i + 1)..]);
    }

    private static bool TryCount(string? text, int least, int otherwise, out int count)
    {
        count = otherwise;
        return text is null || (int.TryParse(text.Trim(), System.Globalization.NumberStyles.None, null, out count) && count >= least);
    }
}
