using System.Globalization;
using System.Text;

namespace Mixscore.Score.Benchmarks;

/// <summary>A score of any length: two parts, eighths, dynamics, a tempo mark and a repeated section every eight bars.</summary>
internal static class MadeScore
{
    internal static byte[] Of(int bars)
    {
        var xml = new StringBuilder("<score-partwise><part-list><score-part id=\"P1\"><part-name>Horn</part-name></score-part><score-part id=\"P2\"><part-name>Cello</part-name></score-part></part-list>");
        for (var part = 1; part <= 2; part++)
        {
            xml.Append(CultureInfo.InvariantCulture, $"<part id=\"P{part}\">");
            for (var bar = 1; bar <= bars; bar++) Bar(xml, bar);
            xml.Append("</part>");
        }
        return Encoding.UTF8.GetBytes(xml.Append("</score-partwise>").ToString());
    }

    private static void Bar(StringBuilder xml, int bar)
    {
        xml.Append(CultureInfo.InvariantCulture, $"<measure number=\"{bar}\">");
        if (bar == 1) xml.Append("<attributes><divisions>2</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes>");
        if (bar % 8 == 1) xml.Append(CultureInfo.InvariantCulture, $"<barline location=\"left\"><repeat direction=\"forward\"/></barline><direction><direction-type><dynamics><mf/></dynamics></direction-type><sound tempo=\"{60 + bar % 60}\"/></direction>");
        for (var i = 0; i < 8; i++) xml.Append("<note><pitch><step>C</step><octave>4</octave></pitch><duration>1</duration><voice>1</voice><type>eighth</type><stem>up</stem></note>");
        if (bar % 8 == 4) xml.Append("<barline location=\"right\"><repeat direction=\"backward\"/></barline>");
        xml.Append("</measure>");
    }
}
