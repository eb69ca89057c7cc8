using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Reads a part's dynamics, hairpins and words as levels that follow one another over the whole piece.</summary>
internal sealed class DynamicsReading
{
    /// <summary>What holds until the first dynamic. Common practice, no source.</summary>
    private const string Unmarked = "mf";

    private readonly Timeline _timeline;
    private readonly DynamicsTable _table;
    private readonly SortedDictionary<Quarters, string> _levels;
    private readonly List<DraftPiece> _pieces = [];
    private string _now;
    private Quarters _at;

    private DynamicsReading(Timeline timeline, DynamicsTable table, SortedDictionary<Quarters, string> levels)
    {
        (_timeline, _table, _levels) = (timeline, table, levels);
        _now = table[Unmarked] is not null ? Unmarked : table.Names.First();
    }

    /// <summary>Pieces that cover the piece of music without gap.</summary>
    /// <param name="part">The part as played.</param>
    /// <param name="timeline">The bars as played.</param>
    /// <param name="table">The plan's dynamics; at least one.</param>
    /// <param name="touches">How many accents were passed over.</param>
    internal static IReadOnlyList<DraftPiece> Of(PerformedPart part, Timeline timeline, DynamicsTable table, out int touches)
    {
        var levels = PrintedLevels.Of(part, timeline, table, out touches);
        // "più f" is a step from what is reached by then, hairpins included: one after the other, each on what stands before it.
        foreach (var words in part.Words.Where(words => words.Change is LoudnessChange.Louder or LoudnessChange.Softer))
            if (words.At < timeline.End && !levels.ContainsKey(words.At))
                levels[words.At] = DynamicWord.Step(Read(part, timeline, table, levels).LastOrDefault(piece => piece.From < words.At, new DraftPiece(default, default, Unmarked, Unmarked)).End, words.Change == LoudnessChange.Louder, table);
        return Read(part, timeline, table, levels);
    }

    private static List<DraftPiece> Read(PerformedPart part, Timeline timeline, DynamicsTable table, SortedDictionary<Quarters, string> levels)
    {
        var reading = new DynamicsReading(timeline, table, levels);
        foreach (var swell in Swell.Of(part, [.. levels.Keys], timeline)) reading.Take(swell);
        reading.HoldUntil(timeline.End);
        return reading._pieces;
    }

    private void Take(Swell swell)
    {
        if (swell.From < _at)
        {
            // Of two staves' swells the first counts; a swell that is drawn a little into the next is no more than that.
            if (_at - swell.From > (swell.To - swell.From) * new Fraction(1, 2)) return;
            swell = swell with { From = _at };
        }
        if (swell.From >= _timeline.End) return;
        HoldUntil(swell.From);
        if (_levels.TryGetValue(swell.From, out var here)) _now = here;
        if (swell is { Niente: true, Grows: true }) _now = DynamicWord.Nothing;
        foreach (var (at, goal) in _levels.Where(level => level.Key > swell.From && level.Key <= Reach(swell.To)).ToList())
        {
            if (!Leads(swell.Grows, goal)) break;
            Move(at, goal);
            if (at >= swell.To) return;
        }
        // A swell that found its goal before its end is spent; one without a goal moves one step of the table.
        if (_at > swell.From) return;
        var until = _levels.Keys.FirstOrDefault(at => at > swell.From && at < swell.To, swell.To);
        Move(until, swell is { Niente: true, Grows: false } ? DynamicWord.Nothing : DynamicWord.Step(_now, swell.Grows, _table));
    }

    private bool Leads(bool grows, string goal) => grows
        ? DynamicWord.Loudness(goal, _table) > DynamicWord.Loudness(_now, _table)
        : DynamicWord.Loudness(goal, _table) < DynamicWord.Loudness(_now, _table);

    /// <summary>How far after a hairpin's end its goal may stand: a beat, or a quarter where beats are shorter. Common
    /// practice, no source.</summary>
    private Quarters Reach(Quarters end)
    {
        var bar = _timeline.BarAt(end);
        return Quarters.Max(end + new Quarters(1), bar.Beats.FirstOrDefault(beat => beat > end, bar.End));
    }

    private void HoldUntil(Quarters to)
    {
        foreach (var (at, level) in _levels.Where(level => level.Key >= _at && level.Key < to).ToList())
        {
            Piece(at, _now);
            _now = level;
        }
        Piece(to, _now);
    }

    private void Move(Quarters to, string goal)
    {
        Piece(to, goal);
        _now = goal;
    }

    private void Piece(Quarters to, string end)
    {
        if (to > _at) _pieces.Add(new DraftPiece(_at, to, _now, end));
        _at = Quarters.Max(_at, to);
    }
}
