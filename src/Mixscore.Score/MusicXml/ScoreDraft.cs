namespace Mixscore.Score;

/// <summary>A score while it is being read: bars, and what the parts say about the whole.</summary>
internal sealed class ScoreDraft(string file)
{
    /// <summary>The most bars that a score may have; the longest works have some thousands.</summary>
    internal const int MostBars = 50_000;

    private readonly HashSet<WrittenLetter> _letters = [];
    private readonly HashSet<(WrittenPlace, TempoChange)> _gradual = [];

    internal Notices Notices { get; } = new(file);

    internal List<BarDraft> Bars { get; } = [];

    internal List<TempoDraft> Tempo { get; } = [];

    internal List<WrittenLetter> Letters { get; } = [];

    internal SortedSet<WrittenPlace> Fermatas { get; } = [];

    internal List<GradualTempo> GradualTempo { get; } = [];

    /// <summary>The bar at a place in the file, made when the first part comes to it.</summary>
    internal BarDraft BarAt(int number, string? label, int line)
    {
        if (number <= Bars.Count) return Bars[number - 1];
        if (number > MostBars)
            throw new InputException(new Fault("MX003", new Place(file, line), $"the score has more than {MostBars} bars", "split it into movements"));
        var bar = new BarDraft(number, LabelOf(number, label), line);
        Bars.Add(bar);
        return bar;
    }

    /// <summary>The printed number as a position can name it.</summary>
    private static string LabelOf(int number, string? printed)
    {
        var label = (printed ?? "").Trim();
        if (Position.IsAnchor(label)) return label;
        var kept = new string([.. label.Select(c => char.IsLetterOrDigit(c) || c is '.' or '_' or '\'' or '-' ? c : '_')]).TrimStart('\'').Replace("..", "._", StringComparison.Ordinal);
        return Position.IsAnchor(kept) ? kept : FormattableString.Invariant($"{number}");
    }

    /// <summary>Puts other bars in place of those that were read, and moves every place with them.</summary>
    internal void Replace(List<BarDraft> bars, Func<WrittenPlace, WrittenPlace> moved)
    {
        Bars.Clear();
        Bars.AddRange(bars);
        Change(Tempo, mark => mark with { At = moved(mark.At) });
        Change(Letters, letter => letter with { Bar = moved(new WrittenPlace(letter.Bar, Quarters.Zero)).Bar });
        Change(GradualTempo, words => words with { At = moved(words.At) });
        var fermatas = Fermatas.Select(moved).ToList();
        Fermatas.Clear();
        Fermatas.UnionWith(fermatas);
    }

    /// <summary>Changes every item of a list where it stands.</summary>
    internal static void Change<T>(List<T> items, Func<T, T> change)
    {
        for (var i = 0; i < items.Count; i++) items[i] = change(items[i]);
    }

    internal void AddLetter(string name, int bar)
    {
        var letter = new WrittenLetter(name, bar);
        if (name.Length > 0 && _letters.Add(letter)) Letters.Add(letter);
    }

    internal void AddGradual(GradualTempo words)
    {
        if (_gradual.Add((words.At, words.Change))) GradualTempo.Add(words);
    }
}

/// <summary>A tempo mark as found.</summary>
/// <param name="At">Where it holds from.</param>
/// <param name="QuartersPerMinute">Its tempo; for a relation, what the tempo before is multiplied by.</param>
/// <param name="IsRelation">Whether it only relates the new tempo to the old one.</param>
/// <param name="IsSound">Whether it is meant for playing; such a mark wins over a printed one.</param>
/// <param name="Part">The part, from 0; the first part's mark wins.</param>
/// <param name="Line">The line in the file.</param>
internal sealed record TempoDraft(WrittenPlace At, double QuartersPerMinute, bool IsRelation, bool IsSound, int Part, int Line);
