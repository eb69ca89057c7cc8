using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Reads a part's dynamics, hairpins and words as levels that follow one another over the whole piece.</summary>
internal sealed class DynamicsReading
{
    /// <summary>What holds until the first dynamic. Common practice, no source.</summary>
    private const string Unmarked = "mf";

    private readonly Timeline _timeline;
    private readonly DynamicsTable _table;
    private readonly SortedDictionary<Quarters, string> _levels = [];
    private readonly List<DraftPiece> _pieces = [];
    private string _now;
    private Quarters _at;

    private DynamicsReading(Timeline timeline, DynamicsTable table)
    {
        (_timeline, _table) = (timeline, table);
        _now = table[Unmarked] is not null ? Unmarked : table.Names.First();
    }

    /// <summary>Pieces that cover the piece of music without gap.</summary>
    /// <param name="part">The part as played.</param>
    /// <param name="timeline">The bars as played.</param>
    /// <param name="table">The plan's dynamics; at least one.</param>
    /// <param name="touches">How many accents were passed over.</param>
    internal static IReadOnlyList<DraftPiece> Of(PerformedPart part, Timeline timeline, DynamicsTable table, out int touches)
    {
        var reading = new DynamicsReading(timeline, table);
        touches = reading.TakeLevels(part);
        foreach (var swell in Swells(part, reading._levels, timeline.End)) reading.Take(swell);
        reading.HoldUntil(timeline.End);
        return reading._pieces;
    }

    /// <summary>Where several marks stand at one place (two staves), the loudest counts.</summary>
    private int TakeLevels(PerformedPart part)
    {
        var touches = 0;
        foreach (var mark in part.Dynamics)
            if (DynamicWord.Holds(mark.Text, _table) is { } level) Add(mark.At, level);
            else touches++;
        foreach (var words in part.Words.Where(words => words.Change == LoudnessChange.Level))
            if (DynamicWord.Named(words.Words, _table) is { } level) Add(words.At, level);
        foreach (var words in part.Words.Where(words => words.Change is LoudnessChange.Louder or LoudnessChange.Softer))
            if (!_levels.ContainsKey(words.At))
                Add(words.At, DynamicWord.Step(LevelBefore(words.At), words.Change == LoudnessChange.Louder, _table));
        return touches;
    }

    private void Add(Quarters at, string level)
    {
        if (at >= _timeline.End) return;
        if (!_levels.TryGetValue(at, out var other) || DynamicWord.Loudness(level, _table) > DynamicWord.Loudness(other, _table))
            _levels[at] = level;
    }

    private string LevelBefore(Quarters at) => _levels.LastOrDefault(level => level.Key < at) is { Value: { } level } ? level : _now;

    /// <summary>A hairpin, or words such as cresc. with dashes or, without them, up to the next dynamic.</summary>
    private sealed record Swell(Quarters From, Quarters To, bool Grows, bool Niente);

    private static IEnumerable<Swell> Swells(PerformedPart part, SortedDictionary<Quarters, string> levels, Quarters end)
    {
        var hairpins = part.Hairpins.Select(hairpin =>
            new Swell(hairpin.From, Quarters.Min(hairpin.To, end), hairpin.Grows, hairpin.Niente));
        var words = part.Words.Where(words => words.Change is LoudnessChange.Grows or LoudnessChange.Falls)
            .Select(words => (Words: words, To: words.To ?? levels.Keys.FirstOrDefault(at => at > words.At)))
            .Where(words => words.To > words.Words.At)
            .Select(words => new Swell(words.Words.At, Quarters.Min(words.To, end), words.Words.Change == LoudnessChange.Grows,
                Niente: false));
        return hairpins.Concat(words).Where(swell => swell.To > swell.From).OrderBy(swell => swell.From).ThenBy(swell => swell.To);
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
