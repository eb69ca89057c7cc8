using System.Globalization;

namespace Mixscore.Score;

/// <summary>Finds movements in one file: bar numbers begin again at 1, or at 0 with a 1 behind it, after higher ones.</summary>
internal static class Movements
{
    /// <summary>The movement of each bar, from 1.</summary>
    internal static int[] Of(IReadOnlyList<string> labels)
    {
        var movements = new int[labels.Count];
        var movement = 1;
        var highest = 0;
        for (var i = 0; i < labels.Count; i++)
        {
            var number = NumberOf(labels[i]);
            var begins = number == 1 || (number == 0 && i + 1 < labels.Count && NumberOf(labels[i + 1]) == 1);
            if (begins && highest >= 2)
            {
                movement++;
                highest = 0;
            }
            highest = Math.Max(highest, number ?? 0);
            movements[i] = movement;
        }
        return movements;
    }

    private static int? NumberOf(string label) =>
        int.TryParse(label, NumberStyles.None, CultureInfo.InvariantCulture, out var number) ? number : null;
}
