using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Which beats of a meter stand at the head of a group: all in 4/4, the first and fourth in 6/8, the first and fourth in 3+2/8.</summary>
internal static class BeatGroups
{
    /// <summary>For each beat of a meter whether it heads a group.</summary>
    internal static bool[] Heads(Meter meter)
    {
        var heads = new List<bool>();
        foreach (var (numbers, unit) in Fractions(meter.Text))
            foreach (var group in numbers.Length > 1 ? numbers : Split(numbers[0], unit))
                for (var i = 0; i < group; i++) heads.Add(i == 0);
        return heads.Count == meter.Beats.Count ? [.. heads] : [.. Enumerable.Repeat(true, meter.Beats.Count)];
    }

    /// <summary>Eighths and shorter beats go by threes where they make more than one such group (as Standard MIDI Files count their clicks, too).</summary>
    private static IEnumerable<int> Split(int beats, int unit) =>
        unit >= 8 && beats > 3 && beats % 3 == 0 ? Enumerable.Repeat(3, beats / 3) : Enumerable.Repeat(1, beats);

    /// <summary><c>3+2/8</c> is one fraction of two groups; <c>2/4+3/8</c> is two fractions. Nothing where the text says otherwise.</summary>
    private static IEnumerable<(int[] Numbers, int Unit)> Fractions(string text)
    {
        var numbers = new List<int>();
        foreach (var part in text.Split('+', StringSplitOptions.TrimEntries))
        {
            var slash = part.IndexOf('/', StringComparison.Ordinal);
            if (!TryNumber(slash < 0 ? part : part[..slash], out var number)) yield break;
            numbers.Add(number);
            if (slash < 0) continue;
            if (!TryNumber(part[(slash + 1)..], out var unit)) yield break;
            yield return ([.. numbers], unit);
            numbers.Clear();
        }
    }

    private static bool TryNumber(string text, out int number) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out number) && number is > 0 and < 1000;
}
