using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A node of a YAML text, which keeps its place.</summary>
/// <param name="Place">File, line and column.</param>
/// <param name="Start">Index of its first character in the text.</param>
/// <param name="End">Index after its last character.</param>
internal abstract record YamlNode(Place Place, int Start, int End);

/// <summary>
/// A scalar: its text without quotes, empty where nothing is written, and whether it is plain (no quotes, no block). No
/// type is guessed: <c>off</c> is three letters.
/// </summary>
internal sealed record YamlText(Place Place, int Start, int End, string Value, bool IsPlain) : YamlNode(Place, Start, End);

/// <summary>A sequence.</summary>
internal sealed record YamlList(Place Place, int Start, int End, IReadOnlyList<YamlNode> Items) : YamlNode(Place, Start, End);

/// <summary>A mapping, in the order of the file, in braces or not; every key is a scalar and stands once.</summary>
internal sealed record YamlMap(Place Place, int Start, int End, IReadOnlyList<YamlPair> Pairs, bool IsFlow) : YamlNode(Place, Start, End)
{
    /// <summary>The pair of a key, or <c>null</c>.</summary>
    internal YamlPair? this[string key] => Pairs.FirstOrDefault(pair => pair.Key.Value == key);
}

/// <summary>A key and its value.</summary>
internal sealed record YamlPair(YamlText Key, YamlNode Value)
{
    /// <summary>Whether nothing is written after the colon.</summary>
    internal bool IsEmpty => Value is YamlText { IsPlain: true, Value.Length: 0 };
}
