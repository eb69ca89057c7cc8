using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A pair to be written, with the comment on its line.</summary>
internal sealed record NewPair(string Key, string Value, string? Comment = null);

/// <summary>
/// A YAML text that is edited in place: a pair is set, put in or taken out, and every other line stays as it is, byte for
/// byte, with its comment and its line ending. After each edit the text is read again; where it does not say exactly what
/// was meant, the edit is taken back.
/// </summary>
internal sealed class YamlLines
{
    private const int UsualIndent = 2;

    private readonly string _file;
    private readonly string _newLine;

    /// <exception cref="InputException">The text is not YAML that can be edited.</exception>
    internal YamlLines(string text, string file)
    {
        _file = file;
        var firstBreak = text.IndexOfAny(['\r', '\n']);
        _newLine = firstBreak < 0 || text[firstBreak] == '\n' ? "\n" : firstBreak + 1 < text.Length && text[firstBreak + 1] == '\n'
            ? "\r\n" : "\r";
        (Text, Root) = (text, Parse(text));
    }

    internal string Text { get; private set; }

    /// <summary>The text as nodes, always of <see cref="Text"/> as it stands.</summary>
    internal YamlMap Root { get; private set; }

    /// <summary>The node at the end of a path of keys, or <c>null</c>.</summary>
    internal YamlNode? Find(params string[] path)
    {
        YamlNode? node = Root;
        foreach (var key in path) node = (node as YamlMap)?[key]?.Value;
        return node;
    }

    /// <summary>The pair at the end of a path of at least one key, or <c>null</c>.</summary>
    internal YamlPair? FindPair(params string[] path) => (Find(path[..^1]) as YamlMap)?[path[^1]];

    /// <summary>Writes another value after a key that is there.</summary>
    /// <exception cref="InputException">The text is laid out so that this cannot be done.</exception>
    internal void Replace(string[] path, string value)
    {
        var at = YamlLeaf.Key(path);
        var others = YamlLeaf.All(Root).Count(leaf => leaf.Path != at);
        Guard(path, () =>
        {
            var pair = FindPair(path)!;
            var written = YamlScalar.Write(value, IsInFlow(path[..^1]));
            if (pair.IsEmpty) Change(AfterColon(pair), AfterColon(pair), " " + written);
            else Change(pair.Value.Start, EndOf(pair.Value), written);
        }, leaves => leaves.Where(leaf => leaf.Path != at), leaf => leaf.Path == at && leaf.Value == value, others + 1);
    }

    /// <summary>Puts pairs into a mapping, which need not be there yet.</summary>
    /// <param name="path">Where the mapping stands.</param>
    /// <param name="after">The key of the mapping after which the pairs go; <c>null</c> for the beginning.</param>
    /// <param name="pairs">At least one; comments are left out between braces.</param>
    /// <exception cref="InputException">The text is laid out so that this cannot be done.</exception>
    internal void Insert(string[] path, string? after, IReadOnlyList<NewPair> pairs)
    {
        var added = pairs.ToDictionary(pair => YamlLeaf.Key([.. path, pair.Key]), pair => pair.Value);
        var before = YamlLeaf.All(Root).Count;
        Guard(path, () =>
        {
            MakeMap(path);
            OpenBraces(path);
            var isInFlow = IsInFlow(path);
            var written = pairs.Select(pair =>
                (Pair: $"{YamlScalar.Write(pair.Key, isInFlow)}: {YamlScalar.Write(pair.Value, isInFlow)}", pair.Comment));
            if (isInFlow) InsertInFlow((YamlMap)Find(path)!, after, string.Join(", ", written.Select(pair => pair.Pair)));
            else InsertLines(path, after, [.. written.Select(pair => pair.Pair + (pair.Comment is null ? "" : $"  # {pair.Comment}"))]);
        }, leaves => leaves, leaf => added.TryGetValue(leaf.Path, out var value) && value == leaf.Value, before + pairs.Count);
    }

    /// <summary>Changes the comment at the end of a pair's line. Between braces there is none, and it stays so.</summary>
    /// <param name="path">Where the pair stands.</param>
    /// <param name="revised">Of the comment that is there, without its #, empty for none, the one that shall be; one line, not empty.</param>
    /// <exception cref="InputException">The text is laid out so that this cannot be done.</exception>
    internal void ReviseComment(string[] path, Func<string, string> revised)
    {
        if (IsInFlow(path[..^1])) return;
        Guard(path, () =>
        {
            var after = AfterPair(FindPair(path)!);
            var end = Text.AsSpan(after).IndexOfAny('\r', '\n') is var length && length < 0 ? Text.Length : after + length;
            var sharp = Text.IndexOf('#', after, end - after);
            if (sharp < 0) Change(after, end, $"  # {revised("")}");
            else Change(sharp, end, $"# {revised(Text[(sharp + 1)..end].Trim())}");
        }, leaves => leaves);
    }

    /// <summary>Takes a pair out, with the comment on its line.</summary>
    /// <exception cref="InputException">The text is laid out so that this cannot be done.</exception>
    internal void Remove(string[] path)
    {
        var at = YamlLeaf.Key(path);
        Guard(path, () =>
        {
            var map = (YamlMap)Find(path[..^1])!;
            var pair = FindPair(path)!;
            if (map.IsFlow) RemoveInFlow(map, pair);
            else Change(LineStart(pair.Key.Start), NextLine(EndOf(pair)), "");
        }, leaves => leaves.Where(leaf => leaf.Path != at && !leaf.Path.StartsWith(at + '\n', StringComparison.Ordinal)));
    }

    /// <summary>The comment on a pair's line, without its #; <c>null</c> for none.</summary>
    internal string? CommentOf(string[] path)
    {
        if (IsInFlow(path[..^1])) return null;
        var after = AfterPair(FindPair(path)!);
        var end = Text.AsSpan(after).IndexOfAny('\r', '\n') is var length && length < 0 ? Text.Length : after + length;
        var sharp = Text.IndexOf('#', after, end - after);
        return sharp < 0 ? null : Text[(sharp + 1)..end].Trim();
    }

    /// <summary>Edits, and takes the edit back unless the text then says what it said before, but for what was meant.</summary>
    private void Guard(string[] path, Action edit, Func<IEnumerable<YamlLeaf>, IEnumerable<YamlLeaf>> meant,
        Predicate<YamlLeaf>? isNew = null, int? count = null)
    {
        var (text, root, before) = (Text, Root, YamlLeaf.All(Root));
        var place = FindPair(path)?.Key.Place ?? Root.Place;
        try
        {
            edit();
            var after = YamlLeaf.All(Root);
            if (after.Count == (count ?? after.Count) && after.Where(leaf => isNew?.Invoke(leaf) != true).SequenceEqual(meant(before)))
                return;
        }
        catch (InputException)
        {
            // What was written cannot be read back; it is reported below as what it is, a layout that cannot be edited.
        }
        (Text, Root) = (text, root);
        throw new InputException(new Fault(PlanFault.CannotEdit, place,
            $"\"{string.Join(" / ", path)}\" is laid out so that it cannot be edited line by line",
            "write each key on a line of its own, indented by blanks"));
    }

    private void InsertInFlow(YamlMap map, string? after, string pairs)
    {
        if (after is not null) Change(AfterPair(map[after]!), AfterPair(map[after]!), ", " + pairs);
        else if (map.Pairs.Count > 0) Change(map.Pairs[0].Key.Start, map.Pairs[0].Key.Start, pairs + ", ");
        else Change(map.Start, map.End, $"{{ {pairs} }}");
    }

    private void RemoveInFlow(YamlMap map, YamlPair pair)
    {
        var at = map.Pairs.TakeWhile(other => other != pair).Count();
        if (at + 1 < map.Pairs.Count) Change(pair.Key.Start, map.Pairs[at + 1].Key.Start, "");
        else Change(at > 0 ? AfterPair(map.Pairs[at - 1]) : pair.Key.Start, AfterPair(pair), "");
    }

    private void InsertLines(string[] path, string? after, IReadOnlyList<string> lines)
    {
        var map = Find(path) as YamlMap;
        var indent = map is { Pairs.Count: > 0 } ? map.Pairs[0].Key.Place.Column - 1 : IndentUnder(path);
        var at = 0;
        // A new section goes to the end, behind blank lines and comments that close the file.
        if (path.Length == 0 && after is not null && map!.Pairs[^1].Key.Value == after) at = Text.Length;
        else if (after is not null) at = NextLine(EndOf(map![after]!));
        else if (path.Length > 0) at = NextLine(FindPair(path)!.Key.End);
        else if (map is { Pairs.Count: > 0 }) at = LineStart(map.Pairs[0].Key.Start);
        var opening = at > 0 && Text[at - 1] is not ('\n' or '\r') ? _newLine : "";
        Change(at, at, opening + string.Concat(lines.Select(line => new string(' ', indent) + line + _newLine)));
    }

    /// <summary>Makes sure that every key of a path is there, with nothing after it where it is new.</summary>
    private void MakeMap(string[] path)
    {
        for (var length = 1; length <= path.Length; length++)
        {
            if (Find(path[..length]) is not null) continue;
            var (parents, key) = (path[..(length - 1)], path[length - 1]);
            OpenBraces(parents);
            var parent = Find(parents) as YamlMap;
            var last = parent is { Pairs.Count: > 0 } ? parent.Pairs[^1].Key.Value : null;
            if (IsInFlow(parents)) InsertInFlow(parent!, last, $"{YamlScalar.Write(key, true)}: {{}}");
            else InsertLines(parents, last, [$"{YamlScalar.Write(key, false)}:"]);
        }
    }

    /// <summary>Takes an empty pair of braces away, so that lines can stand under its key.</summary>
    private void OpenBraces(string[] path)
    {
        if (path.Length == 0 || IsInFlow(path[..^1]) || Find(path) is not YamlMap { IsFlow: true, Pairs.Count: 0 } braces) return;
        var start = braces.Start;
        while (Text[start - 1] == ' ') start--;
        Change(start, braces.End, "");
    }

    private bool IsInFlow(string[] path) =>
        Enumerable.Range(0, path.Length + 1).Any(length => Find(path[..length]) is YamlMap { IsFlow: true });

    /// <summary>As deep under its key as that key is under the one above.</summary>
    private int IndentUnder(string[] path)
    {
        if (path.Length == 0) return 0;
        var key = FindPair(path)!.Key.Place.Column - 1;
        return path.Length > 1 && FindPair(path[..^1])!.Key.Place.Column - 1 is var above && above < key ? key + key - above
            : key + UsualIndent;
    }

    private int EndOf(YamlPair pair) => pair.Value switch
    {
        YamlMap { IsFlow: false, Pairs.Count: > 0 } map => EndOf(map.Pairs[^1]),
        _ when pair.IsEmpty => pair.Key.End,
        _ => EndOf(pair.Value),
    };

    /// <summary>A block scalar ends at the next line's beginning; its text ends before.</summary>
    private int EndOf(YamlNode value)
    {
        var end = value.End;
        while (end > value.Start && Text[end - 1] is '\n' or '\r' or ' ') end--;
        return end;
    }

    private int AfterColon(YamlPair pair) => Text.IndexOf(':', pair.Key.End) + 1;

    private int AfterPair(YamlPair pair) => pair.IsEmpty ? AfterColon(pair) : EndOf(pair);

    private int LineStart(int index) => index == 0 ? 0 : Text.LastIndexOfAny(['\n', '\r'], index - 1) + 1;

    /// <summary>The beginning of the line after the one that an index stands in.</summary>
    private int NextLine(int index)
    {
        var end = Text.IndexOfAny(['\n', '\r'], index);
        if (end < 0) return Text.Length;
        return Text[end] == '\r' && end + 1 < Text.Length && Text[end + 1] == '\n' ? end + 2 : end + 1;
    }

    private void Change(int from, int to, string put)
    {
        var text = string.Concat(Text.AsSpan(0, from), put, Text.AsSpan(to));
        (Root, Text) = (Parse(text), text);
    }

    private YamlMap Parse(string text)
    {
        var faults = new FaultList();
        var root = YamlTree.Read(text, _file, faults);
        if (root is not null and not YamlMap)
            faults.Add(PlanFault.WrongKind, root.Place, "this is not a mapping", "begin with a title and a score");
        faults.ThrowIfAny();
        return (YamlMap)root!;
    }
}
