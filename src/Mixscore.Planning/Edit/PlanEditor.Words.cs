using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Edits by the words that stand in the file: as whoever reads the plan sees its marks and pins.</summary>
public sealed partial class PlanEditor
{
    /// <summary>What is written after a mark's key; <c>null</c> where there is no such mark.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="key">The mark's position or range, as it is written.</param>
    public string? MarkAt(string source, string key) => WordsOf("levels", source, key);

    /// <summary>What is written after a pin's key; <c>null</c> where there is no such pin.</summary>
    /// <inheritdoc cref="MarkAt"/>
    public string? PinAt(string source, string key) => WordsOf("pins", source, key);

    /// <summary>The marks of a source as they are written, in the order of the file.</summary>
    public IReadOnlyList<(string Key, string Words)> MarksOf(string source) => PairsOf("levels", source);

    /// <summary>The pins of a source as they are written, in the order of the file.</summary>
    public IReadOnlyList<(string Key, string Words)> PinsOf(string source) => PairsOf("pins", source);

    /// <summary>What is written at the end of some keys; <c>null</c> where that is no value.</summary>
    /// <param name="path">The keys that lead to it, outermost first.</param>
    public string? WordsOf(params string[] path) => (_lines.Find(path) as YamlText)?.Value;

    /// <summary>Writes a mark, where its place among the others is.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="key">Its position or range; a mark that is there keeps its line and comment.</param>
    /// <param name="level">The level, as a person writes it.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done, or the key is none; nothing is changed.</exception>
    public void WriteMark(string source, string key, string level) => Write(["levels", source], key, level, null);

    /// <summary>Writes a mark at another place; its comment goes with it.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="key">Where it was, as it is written; it is there.</param>
    /// <param name="becomes">Where it shall be.</param>
    /// <param name="level">The level, as a person writes it.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done, or a key is none; nothing is changed.</exception>
    public void MoveMark(string source, string key, string becomes, string level)
    {
        var comment = _lines.CommentOf(["levels", source, key]);
        _lines.Remove(["levels", source, key]);
        Write(["levels", source], becomes, level, comment);
    }

    /// <summary>Takes a mark out, as it is written.</summary>
    /// <returns>Whether it was there.</returns>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public bool EraseMark(string source, string key) => Erase("levels", source, key, keepsSource: true);

    /// <summary>Writes a pin, where its place among the others is.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="key">Its position or range.</param>
    /// <param name="gain">The gain, as a person writes it.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done, or the key is none; nothing is changed.</exception>
    public void WritePin(string source, string key, string gain) => Write(["pins", source], key, gain, null);

    /// <summary>Takes a pin out, and with the last of them what is left empty.</summary>
    /// <returns>Whether it was there.</returns>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public bool ErasePin(string source, string key) => Erase("pins", source, key, keepsSource: false);

    private (string Key, string Words)[] PairsOf(string section, string source) =>
        [.. ((_lines.Find(section, source) as YamlMap)?.Pairs ?? []).Select(pair => (pair.Key.Value, (pair.Value as YamlText)?.Value ?? ""))];

    private void Write(string[] list, string key, string words, string? comment)
    {
        if (_lines.FindPair([.. list, key]) is not null)
        {
            _lines.Replace([.. list, key], words);
            return;
        }
        if (RangeText.Read(key, out var from, out _) is { } problem) throw new InputException(new Fault(problem.Code, new Place(_path), problem.Found, problem.Remedy));
        _lines.Insert(list, KeyBefore(list, from), [new NewPair(key, words, comment)]);
    }

    private bool Erase(string section, string source, string key, bool keepsSource)
    {
        if (_lines.FindPair(section, source, key) is null) return false;
        _lines.Remove([section, source, key]);
        if (keepsSource || _lines.Find(section, source) is YamlMap { Pairs.Count: > 0 }) return true;
        _lines.Remove([section, source]);
        if (_lines.Find(section) is not YamlMap { Pairs.Count: > 0 }) _lines.Remove([section]);
        return true;
    }
}
