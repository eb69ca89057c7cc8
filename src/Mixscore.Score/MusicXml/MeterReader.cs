using System.Globalization;

namespace Mixscore.Score;

/// <summary>Reads time signatures: simple, additive (3+2/8), composite (2/4+3/8), alternating, and none (senza misura).</summary>
internal static class MeterReader
{
    private const int MostBeats = 512;
    private const int FinestUnit = 1024;

    /// <summary>The meters that a <c>time</c> element names: several where they alternate; empty where it cannot be read.</summary>
    internal static IReadOnlyList<Meter> Read(Element time)
    {
        if (time.Child("senza-misura") is not null) return [new Meter("free", [])];
        var texts = new List<(string Beats, string Unit)>();
        string? beats = null;
        foreach (var child in time.Children)
            if (child.Name == "beats") beats = child.Text;
            else if (child.Name == "beat-type" && beats is not null)
            {
                texts.Add((beats, child.Text));
                beats = null;
            }
        var meters = texts.Select(pair => One(pair.Beats, pair.Unit)).ToList();
        if (meters.Count == 0 || meters.Contains(null)) return [];
        if (meters.Count == 1) return [meters[0]!];
        // Both <interchangeable> and separated fractions that alternate are printed side by side; only a composite is one bar.
        return [new Meter(string.Join('+', meters.Select(meter => meter!.Text)), [.. meters.SelectMany(meter => meter!.Beats)])];
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
