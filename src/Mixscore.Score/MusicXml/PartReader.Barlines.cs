using System.Globalization;
using System.Text.RegularExpressions;

namespace Mixscore.Score;

internal sealed partial class PartReader
{
    private const int MostPlays = 1000;

    private void TakeBarline(Element barline)
    {
        // Without a word of where it stands, a barline before all notes is the left one, and any other the right one.
        var location = barline["location"] ?? (_full > Quarters.Zero ? "right" : "");
        var here = location == "left" ? Quarters.Zero : _at;
        foreach (var child in barline.Children)
            switch (child.Name)
            {
                case "repeat":
                    TakeRepeat(child, location);
                    break;
                case "ending":
                    TakeEnding(child, location);
                    break;
                case "fermata":
                    draft.Fermatas.Add(new WrittenPlace(_bar.Number, here));
                    break;
                case "segno":
                    _bar.Add(new Jump(JumpKind.Segno, barline["segno"] ?? "", WordsOnly: barline["segno"] is null), here);
                    break;
                case "coda":
                    _bar.Add(new Jump(JumpKind.Coda, barline["coda"] ?? "", WordsOnly: barline["coda"] is null), here);
                    break;
            }
    }

    private void TakeRepeat(Element repeat, string location)
    {
        var inner = InnerAt(location, repeat);
        if (repeat["direction"] == "forward")
        {
            if (inner is not null) inner.RepeatStarts = true;
            else if (location == "right") _next.RepeatStarts = true;   // on the barline behind: the next bar's
            else _bar.RepeatStarts = true;
            return;
        }
        var times = 2;
        if (repeat["times"] is { } text && (!int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out times) || times is < 1 or > MostPlays))
        {
            Notices.Warn("MX036", repeat.Line, _bar.Label, $"a repeat says times=\"{Cut(text)}\"; it is played twice");
            times = 2;
        }
        var isAgain = repeat["after-jump"] == "yes";
        if (inner is not null) (inner.Plays, inner.RepeatsAfterJump) = (Math.Max(inner.Plays, times), inner.RepeatsAfterJump || isAgain);
        else
        {
            var bar = BarBehind(location);
            (bar.Plays, bar.RepeatsAfterJump) = (Math.Max(bar.Plays, times), bar.RepeatsAfterJump || isAgain);
        }
    }

    private void TakeEnding(Element ending, string location)
    {
        var inner = InnerAt(location, ending);
        if (ending["type"] != "start")
        {
            if (inner is not null) inner.EndingStops = true;
            else BarBehind(location).EndingStops = true;
            return;
        }
        var passes = EndingNumbers(ending["number"] ?? "");
        if (passes.Count == 0) passes = EndingNumbers(ending.Text);
        if (inner is not null) inner.EndingStart ??= passes;
        else if (location == "right") _next.EndingStart ??= passes;
        else _bar.EndingStart ??= passes;
    }

    /// <summary>The bar that a sign ends: this one, or for a sign on the left barline the one before it.</summary>
    private BarDraft BarBehind(string location) => location == "left" && _bar.Number > 1 ? draft.Bars[_bar.Number - 2] : _bar;

    /// <summary>The barline inside the bar that a sign belongs to, or <c>null</c> where it belongs to one of the bar's own.</summary>
    private InnerBarline? InnerAt(string location, Element sign)
    {
        if (location != "middle" || _at == Quarters.Zero) return null;
        Notices.Warn("MX035", sign.Line, _bar.Label, "a repeat sign stands inside the bar; it is counted as two bars, and the second is named by one after the first, such as 12+1");
        if (!_bar.Inner.TryGetValue(_at, out var inner)) _bar.Inner[_at] = inner = new InnerBarline();
        return inner;
    }

    /// <summary>The passes of a bracket such as <c>1</c>, <c>1, 2</c>, <c>1-3</c>, <c>2.</c>; empty for none.</summary>
    internal static IReadOnlyList<int> EndingNumbers(string text)
    {
        var passes = new SortedSet<int>();
        foreach (Match match in EndingRange().Matches(text))
        {
            var from = int.Parse(match.Groups[1].ValueSpan, CultureInfo.InvariantCulture);
            var to = match.Groups[2].Success ? int.Parse(match.Groups[2].ValueSpan, CultureInfo.InvariantCulture) : from;
            for (var pass = Math.Max(1, from); pass <= to && pass <= MostPlays; pass++) passes.Add(pass);
        }
        return [.. passes];
    }

    [GeneratedRegex(@"([0-9]{1,4})(?:\s*[-–]\s*([0-9]{1,4}))?")]
    private static partial Regex EndingRange();
}
