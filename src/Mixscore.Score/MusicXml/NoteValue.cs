namespace Mixscore.Score;

/// <summary>Note values by name.</summary>
internal static class NoteValue
{
    private static readonly Dictionary<string, Quarters> Named = new()
    {
        ["maxima"] = new(32),
        ["long"] = new(16),
        ["breve"] = new(8),
        ["whole"] = new(4),
        ["half"] = new(2),
        ["quarter"] = new(1),
        ["eighth"] = new(1, 2),
        ["16th"] = new(1, 4),
        ["32nd"] = new(1, 8),
        ["64th"] = new(1, 16),
        ["128th"] = new(1, 32),
        ["256th"] = new(1, 64),
        ["512th"] = new(1, 128),
        ["1024th"] = new(1, 256),
    };

    /// <summary>The length of a value with so many dots, or <c>null</c> for an unknown name: n dots make it 2 − 1/2ⁿ as long.</summary>
    internal static Quarters? Of(string name, int dots) =>
        dots <= 8 && Named.TryGetValue(name, out var plain) ? plain * (new Fraction(2) - new Fraction(1, 1L << dots)) : null;
}
