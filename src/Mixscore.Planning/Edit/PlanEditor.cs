using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// Edits a plan's text. Comments, order, layout and line endings stay as the person wrote them: an edit touches the lines
/// that it is about and no other.
/// </summary>
public sealed partial class PlanEditor
{
    private readonly string _path;
    private readonly Timeline? _timeline;
    private readonly YamlLines _lines;

    /// <summary>An editor of a text.</summary>
    /// <param name="text">The text.</param>
    /// <param name="path">The plan's file.</param>
    /// <param name="timeline">Where positions lie, so that new marks stand in their place; without it they go to the
    /// end of their list.</param>
    /// <exception cref="InputException">The text is not YAML that can be edited.</exception>
    public PlanEditor(string text, string path, Timeline? timeline = null)
    {
        ArgumentNullException.ThrowIfNull(text);
        (_path, _timeline, _lines) = (path, timeline, new YamlLines(text, path));
    }

    /// <summary>The text as edited so far.</summary>
    public string Text => _lines.Text;

    /// <summary>Opens a plan's file.</summary>
    /// <inheritdoc cref="PlanEditor(string, string, Timeline?)"/>
    /// <exception cref="IOException">The file cannot be read.</exception>
    public static PlanEditor Open(string path, Timeline? timeline = null) => new(PlanReader.ReadText(path), path, timeline);

    /// <summary>Writes the file, whole or not at all.</summary>
    /// <exception cref="IOException">The file cannot be written; it is as it was.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be written; it is as it was.</exception>
    public void Save()
    {
        var beside = $"{_path}.{Guid.NewGuid():N}.tmp";
        try
        {
            File.WriteAllText(beside, Text);
            File.Move(beside, _path, overwrite: true);
        }
        finally
        {
            File.Delete(beside);
        }
    }

    /// <summary>Sets a scalar, such as <c>reference</c> or <c>sources</c>, <c>north.voice</c>, <c>within</c>; keys that
    /// are missing are added.</summary>
    /// <param name="value">The text of the value, not empty; quoted where YAML needs it.</param>
    /// <param name="path">The keys that lead to it, outermost first; at least one.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public void SetScalar(string value, params string[] path)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(value);
        if (path.Length == 0) throw new ArgumentException("a value needs a key", nameof(path));
        if (_lines.FindPair(path) is not null)
        {
            _lines.Replace(path, value);
            return;
        }
        var last = _lines.Find(path[..^1]) is YamlMap { Pairs.Count: > 0 } map ? map.Pairs[^1].Key.Value : null;
        _lines.Insert(path[..^1], last, [new NewPair(path[^1], value)]);
    }

    /// <summary>Sets the level of a mark; a mark that is not there yet is put in.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="from">Where the mark begins.</param>
    /// <param name="to">Where its range ends; <c>null</c> without a range.</param>
    /// <param name="start">The level at its beginning.</param>
    /// <param name="end">The level at its end; equal to the start for a held level.</param>
    /// <param name="comment">Stands after a new mark, without its #; a mark that is there keeps its own.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public void SetMark(string source, Position from, Position? to, Level start, Level end, string? comment = null)
    {
        var level = LevelText.Write(start, end);
        if (FindMark(source, from, to) is { } mark) _lines.Replace(["levels", source, mark.Key.Value], level);
        else _lines.Insert(["levels", source], KeyBefore(source, from), [new NewPair(KeyOf(from, to), level, comment)]);
    }

    /// <summary>Sets a mark, with how closely it is to be kept and what it is to be clear by; a mark that is not there yet is put in.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="mark">The mark; its place is not heeded.</param>
    /// <param name="note">
    /// Who set it and when, such as <c>by hand 2026-11-25, Quay Hall</c>: stands in its comment behind what a person wrote there, in
    /// the place of an earlier note that begins with the same words up to a number.
    /// </param>
    /// <param name="kept">The comment of a mark in whose place this one comes; stands before the note. <c>null</c> for none.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public void SetMark(string source, Mark mark, string note, string? kept = null)
    {
        var level = MarkText.Write(mark);
        if (FindMark(source, mark.From, mark.To) is { } there)
        {
            string[] path = ["levels", source, there.Key.Value];
            _lines.Replace(path, level);
            _lines.ReviseComment(path, comment => Noted(comment, note));
        }
        else _lines.Insert(["levels", source], KeyBefore(source, mark.From), [new NewPair(KeyOf(mark.From, mark.To), level, Noted(kept ?? "", note))]);
    }

    /// <summary>Notes behind a value who set it and when; see <see cref="SetMark(string, Mark, string, string?)"/>. A value between braces takes none.</summary>
    /// <param name="note">One line.</param>
    /// <param name="path">The keys that lead to the value, which is there.</param>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public void Note(string note, params string[] path) => _lines.ReviseComment(path, comment => Noted(comment, note));

    /// <summary>The comment on a mark's line, without its #; <c>null</c> where there is none, or no such mark.</summary>
    public string? CommentOf(string source, Position from, Position? to) => FindMark(source, from, to) is { } mark ? _lines.CommentOf(["levels", source, mark.Key.Value]) : null;

    /// <summary>Takes a mark out.</summary>
    /// <returns>Whether it was there.</returns>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public bool RemoveMark(string source, Position from, Position? to)
    {
        if (FindMark(source, from, to) is not { } mark) return false;
        _lines.Remove(["levels", source, mark.Key.Value]);
        return true;
    }

    /// <summary>Whether a source has a mark.</summary>
    public bool HasMarks(string source) => Marks(source).Count > 0;

    /// <summary>Writes the first marks of a source.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="marks">In the order in which they shall stand.</param>
    /// <param name="comment">Stands after each of them, without its #; <c>null</c> for none.</param>
    /// <exception cref="ArgumentException">The source has marks.</exception>
    /// <exception cref="InputException">The plan is laid out so that this cannot be done; nothing is changed.</exception>
    public void AddMarks(string source, IReadOnlyList<Mark> marks, string? comment = null)
    {
        if (HasMarks(source)) throw new ArgumentException($"{source} has marks", nameof(source));
        if (marks.Count > 0)
            _lines.Insert(["levels", source], null,
                [.. marks.Select(mark => new NewPair(KeyOf(mark.From, mark.To), MarkText.Write(mark), comment))]);
    }

    private static string Noted(string comment, string note)
    {
        var words = string.Concat(note.TakeWhile(c => !char.IsAsciiDigit(c)));
        return string.Join("; ", comment.Split("; ").Where(part => part.Length > 0 && !part.StartsWith(words, StringComparison.Ordinal)).Append(note));
    }

    private IReadOnlyList<YamlPair> Marks(string source) => (_lines.Find("levels", source) as YamlMap)?.Pairs ?? [];

    private YamlPair? FindMark(string source, Position from, Position? to) => Marks(source).FirstOrDefault(pair =>
        RangeText.Read(pair.Key.Value, out var start, out var end) is null && IsSame(start, from) && (end, to) switch
        {
            (null, null) => true,
            ({ } a, { } b) => IsSame(a, b),
            _ => false,
        });

    private static bool IsSame(Position a, Position b) => a.ToString() == b.ToString();

    private static string KeyOf(Position from, Position? to) => to is null ? $"{from}" : $"{from}..{to}";

    /// <summary>The key of the last mark that stands before a position, or at it.</summary>
    private string? KeyBefore(string source, Position from) => KeyBefore(["levels", source], from);

    private string? KeyBefore(string[] list, Position from)
    {
        var marks = (_lines.Find(list) as YamlMap)?.Pairs ?? [];
        if (_timeline is null || !_timeline.TryResolve(from, out var place, out _)) return marks.Count > 0 ? marks[^1].Key.Value : null;
        return marks.LastOrDefault(pair =>
            RangeText.Read(pair.Key.Value, out var start, out _) is null && _timeline.TryResolve(start, out var other, out _)
            && other <= place)?.Key.Value;
    }
}
