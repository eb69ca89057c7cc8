using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>What <c>write</c> writes.</summary>
[Flags]
internal enum WriteKinds
{
    None = 0,
    Midi = 1,
    Osc = 2,
    Sheet = 4,
    Click = 8,
    Call = 16,
    All = Midi | Osc | Sheet | Click | Call,
}

/// <summary>The words of <c>--only</c>.</summary>
internal static class WriteKindsText
{
    private static readonly (string Word, WriteKinds Kinds)[] Words =
    [
        ("midi", WriteKinds.Midi),
        ("osc", WriteKinds.Osc),
        ("sheet", WriteKinds.Sheet),
        // The two go into the same headphones.
        ("click", WriteKinds.Click | WriteKinds.Call),
        ("call", WriteKinds.Call),
    ];

    /// <summary>All words, with commas between.</summary>
    internal static string All => string.Join(", ", Words.Select(word => word.Word));

    /// <summary>Reads words with commas between.</summary>
    /// <exception cref="InputException">MX392 a word is not one of them.</exception>
    internal static WriteKinds Read(string text)
    {
        var kinds = WriteKinds.None;
        foreach (var word in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            kinds |= Array.Find(Words, one => one.Word == word) is { Word: not null } found ? found.Kinds
                : throw new InputException(new Fault("MX392", new Place("--only"), $"\"{word}\" is not a kind of file", $"write one or more of {All}, with commas between"));
        return kinds;
    }
}
