using System.Globalization;

namespace Mixscore.Desk;

/// <summary>Finds a device among names as a person writes them.</summary>
internal static class MidiNames
{
    /// <summary>The one of that name, whatever the capitals; else the one that the number names; else the only one whose name begins so.</summary>
    /// <returns>Its place from 0, or <c>null</c>.</returns>
    internal static int? Find(string wanted, IReadOnlyList<string> names)
    {
        for (var i = 0; i < names.Count; i++)
            if (names[i].Equals(wanted, StringComparison.OrdinalIgnoreCase)) return i;
        if (int.TryParse(wanted, NumberStyles.None, CultureInfo.InvariantCulture, out var number)) return number < names.Count ? number : null;
        var begun = Enumerable.Range(0, names.Count).Where(i => names[i].StartsWith(wanted, StringComparison.OrdinalIgnoreCase)).ToList();
        return begun.Count == 1 ? begun[0] : null;
    }
}
