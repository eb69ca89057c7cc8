using System.Globalization;
using System.Net;
using System.Text;

namespace Mixscore.Reports;

/// <summary>Text for HTML and SVG: invariant numbers, escaped words.</summary>
internal static class Markup
{
    /// <summary>Coordinates in tenths of a unit: finer than any screen or printer shows here.</summary>
    internal static string N(double value) => Math.Round(value, 1).ToString("0.#", CultureInfo.InvariantCulture);

    /// <summary>A level or gain with its sign, one decimal and a real minus; a dash where there is none.</summary>
    internal static string Signed(double? value) => value is { } v
        ? v.ToString("+0.0;−0.0;0.0", CultureInfo.InvariantCulture)
        : "–";

    internal static string Text(string words) => WebUtility.HtmlEncode(words);

    /// <summary>A path through points; <c>null</c> lifts the pen.</summary>
    internal static string Path(IEnumerable<(double X, double? Y)> points)
    {
        var path = new StringBuilder();
        var isDown = false;
        foreach (var (x, y) in points)
        {
            if (y is { } at) path.Append(isDown ? 'L' : 'M').Append(N(x)).Append(' ').Append(N(at));
            isDown = y is not null;
        }
        return path.ToString();
    }

    /// <summary>A closed shape between a lower and an upper line, for every run in which both are there.</summary>
    internal static string Area(IReadOnlyList<(double X, double? Low, double? High)> points)
    {
        var path = new StringBuilder();
        for (var i = 0; i < points.Count;)
        {
            if (points[i].Low is null || points[i].High is null)
            {
                i++;
                continue;
            }
            var end = i;
            while (end < points.Count && points[end].Low is not null && points[end].High is not null) end++;
            for (var j = i; j < end; j++) path.Append(j == i ? 'M' : 'L').Append(N(points[j].X)).Append(' ').Append(N(points[j].High!.Value));
            for (var j = end - 1; j >= i; j--) path.Append('L').Append(N(points[j].X)).Append(' ').Append(N(points[j].Low!.Value));
            path.Append('Z');
            i = end;
        }
        return path.ToString();
    }
}
