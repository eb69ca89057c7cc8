using System.Globalization;
using Mixscore.Desk;

namespace Mixscore.Screen;

/// <summary>A fader law as a picture in text: gain down the side, the number on the wire across.</summary>
internal static class LawPlot
{
    private const int Width = 60;

    internal static IEnumerable<string> Lines(FaderLaw law)
    {
        var (least, most) = (Math.Min(law.Off, law.ToValue(law.Highest)), Math.Max(law.Off, law.ToValue(law.Highest)));
        (least, most) = (Math.Min(least, law.ToValue(law.Lowest)), Math.Max(most, law.ToValue(law.Lowest)));
        int Column(double value) => (int)Math.Round((value - least) / (most - least) * (Width - 1));
        foreach (var row in new LawTable(law).Rows)
        {
            var at = Column(row.Value);
            var label = row.Gain is { } gain ? string.Create(CultureInfo.InvariantCulture, $"{gain.Value:+0.#;-0.#;0} dB") : "off";
            yield return $"{label,10} │{new string('·', at)}{(row.IsPoint ? '●' : '○')}";
        }
        var ends = (Figure(least), Figure(most));
        yield return $"{"",10} └{new string('─', Width)}";
        yield return $"{"",12}{ends.Item1}{ends.Item2.PadLeft(Width - ends.Item1.Length)}";
    }

    private static string Figure(double value) => value.ToString("0.####", CultureInfo.InvariantCulture);
}
