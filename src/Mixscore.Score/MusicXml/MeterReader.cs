using System.Globalization;

namespace Mixscore.Score;

/// <summary>Reads time signatures: simple, additive (3+2/8), composite (2/4+3/8), alternating, and none (senza misura).</summary>
internal static class MeterReader
{
    private const int MostBeats = 512;
    private const int FinestUnit = 1024;

    /// <summary>What a <c>time</c> element says; <c>null</c> where it cannot be read.</summary>
    internal static MeterSign? Read(Element time)
    {
        if (time.Child("senza-misura") is not null) return MeterSign.Of(new Meter("free", []));
        if (Fractions(time) is not { Count: > 0 } fractions) return null;
        // Fractions side by side: whether they make one bar or take turns is seen from the bars.
        var whole = fractions.Count == 1 ? fractions[0] : new Meter(string.Join('+', fractions), [.. fractions.SelectMany(meter => meter.Beats)]);
        return time.Child("interchangeable") is { } other && Fractions(other) is [var second]
            ? new MeterSign(whole, [whole, second], IsInterchangeable: true)
            : new MeterSign(whole, fractions);
    }

    private static List<Meter>? Fractions(Element time)
    {
        var fractions = new List<Meter>();
        string? beats = null;
        foreach (var child in time.Children)
            if (child.Name == "beats") beats = child.Text;
            else if (child.Name == "beat-type" && beats is not null)
            {
                if (One(beats, child.Text) is not { } meter) return null;
                fractions.Add(meter);
                beats = null;
            }
        return fractions;
    }

    private static Meter? One(string beats, string unitText)
    {
        if (!int.TryParse(unitText, NumberStyles.None, CultureInfo.InvariantCulture, out var unit) || unit is < 1 or > FinestUnit) return null;
        var count = 0;
        foreach (var group in beats.Split('+', StringSplitOptions.TrimEntries))
        {
            if (!int.TryParse(group, NumberStyles.None, CultureInfo.InvariantCulture, out var more) || more is < 1 or > MostBeats) return null;
            count += more;
        }
        if (count > MostBeats) return null;
        var text = string.Join('+', beats.Split('+', StringSplitOptions.TrimEntries));
        return new Meter($"{text}/{unit}", [.. Enumerable.Repeat(new Quarters(4, unit), count)]);
    }
}
