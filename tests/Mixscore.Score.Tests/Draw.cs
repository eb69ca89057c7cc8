using System.Text;

namespace Mixscore.Score.Tests;

/// <summary>Small MusicXML scores, drawn bar by bar. The quarter has 4 divisions and the meter is 4/4 unless a bar says otherwise.</summary>
internal static class Draw
{
    /// <summary>A bar that is full with one note.</summary>
    internal const string Whole = "<note><pitch><step>C</step><octave>4</octave></pitch><duration>16</duration></note>";

    /// <summary>One part, P1, with these bars; each is what stands within its measure element.</summary>
    internal static string Partwise(params string[] bars) => Score([.. bars.Select((bar, i) => ((i + 1).ToString(), bar))]);

    /// <summary>One part, P1, with these numbers and bars.</summary>
    internal static string Score(params (string Number, string Content)[] bars)
    {
        var xml = new StringBuilder("<?xml version=\"1.0\"?><score-partwise><part-list><score-part id=\"P1\"><part-name>Horn</part-name></score-part></part-list><part id=\"P1\">");
        for (var i = 0; i < bars.Length; i++)
            xml.Append($"<measure number=\"{bars[i].Number}\">{(i == 0 ? "<attributes><divisions>4</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>" : "")}{bars[i].Content}</measure>\n");
        return xml.Append("</part></score-partwise>").ToString();
    }

    internal static string Sound(string attributes) => $"<direction><direction-type><words> </words></direction-type><sound {attributes}/></direction>";

    internal static string Words(string words) => $"<direction><direction-type><words>{words}</words></direction-type></direction>";

    internal static string Left(string content) => $"<barline location=\"left\">{content}</barline>";

    internal static string Right(string content) => $"<barline location=\"right\">{content}</barline>";

    /// <summary>Bars by their signs: <c>|:</c>, <c>:|</c>, <c>:|3</c> (three times), <c>[1,2</c>, <c>]</c>, and words or sounds: segno and coda before the note, the rest behind it.</summary>
    internal static string Bars(params string[] signs) => Partwise([.. signs.Select(Bar)]);

    internal static string Bar(string signs)
    {
        string left = "", before = "", behind = "", right = "";
        foreach (var sign in signs.Split(' ', StringSplitOptions.RemoveEmptyEntries))
            if (sign == "|:") left += "<repeat direction=\"forward\"/>";
            else if (sign.StartsWith(":|", StringComparison.Ordinal)) right += $"<repeat direction=\"backward\"{(sign.Length > 2 ? $" times=\"{sign[2..]}\"" : "")}/>";
            else if (sign.StartsWith('[')) left += $"<ending number=\"{sign[1..]}\" type=\"start\"/>";
            else if (sign == "]") right = "<ending number=\"1\" type=\"stop\"/>" + right;
            else if (sign == "]~") right = "<ending number=\"1\" type=\"discontinue\"/>" + right;
            else if (sign.StartsWith("segno=", StringComparison.Ordinal) || sign.StartsWith("coda=", StringComparison.Ordinal)) before += Sound($"{sign.Split('=')[0]}=\"{sign.Split('=')[1]}\"");
            else if (sign.Contains('=')) behind += Sound($"{sign.Split('=')[0]}=\"{sign.Split('=')[1]}\"");
            else if (sign is "Segno" || sign.StartsWith("Coda", StringComparison.Ordinal)) before += Words(sign.Replace('_', ' '));
            else behind += Words(sign.Replace('_', ' '));
        return (left.Length > 0 ? Left(left) : "") + before + Whole + behind + (right.Length > 0 ? Right(right) : "");
    }

    internal static WrittenScore Read(string xml) => ScoreFile.Read(new MemoryStream(Encoding.UTF8.GetBytes(xml)), "drawn.musicxml");

    /// <summary>The played order as runs, such as <c>1-4 1-2</c>.</summary>
    internal static string Order(WrittenScore score, bool withRepeats = true) => Order(PlayOrder.Unfold(score, withRepeats));

    internal static string Order(PlayOrder order) => string.Join(' ', order.Runs().Select(run => (order.Steps[run.First].Bar, order.Steps[run.Last].Bar) is var (first, last) && first == last ? $"{first}" : $"{first}-{last}"));
}
