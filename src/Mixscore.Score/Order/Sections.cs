namespace Mixscore.Score;

/// <summary>
/// The repeated sections of a score. A backward sign closes the nearest open forward sign; without one it goes back to
/// behind the section before, or to the start of the movement. Endings that follow one another belong to one section.
/// </summary>
internal sealed class Sections
{
    /// <summary>The most repeats that are believed to stand one inside the other.</summary>
    private const int DeepestNesting = 64;

    private readonly IReadOnlyList<WrittenBar> _bars;
    private readonly Notices _notices;
    private readonly Stack<Frame> _open = new();
    private readonly Section?[] _innermost;
    private int _behindLast;

    private Sections(IReadOnlyList<WrittenBar> bars, Notices notices)
    {
        (_bars, _notices) = (bars, notices);
        ReturnAt = new Section?[bars.Count];
        EndingAt = new (Section, Ending)?[bars.Count];
        _innermost = new Section?[bars.Count];
    }

    /// <summary>All sections, in the order in which they close.</summary>
    internal List<Section> All { get; } = [];

    /// <summary>For each bar, the section that a sign at its end goes back to the start of.</summary>
    internal Section?[] ReturnAt { get; }

    /// <summary>For each bar, the ending that begins there.</summary>
    internal (Section Section, Ending Ending)?[] EndingAt { get; }

    internal static Sections Of(IReadOnlyList<WrittenBar> bars, Notices notices)
    {
        var sections = new Sections(bars, notices);
        for (var i = 0; i < bars.Count; i++) sections.Take(i);
        sections.CloseAll();
        sections.Nest();
        return sections;
    }

    /// <summary>The sections that a bar lies in, from the inside out.</summary>
    internal IEnumerable<Section> Around(int bar)
    {
        for (var section = _innermost[bar]; section is not null; section = section.Around)
            if (bar <= section.End) yield return section;
    }

    /// <summary>Finds which section lies in which: of those that begin together the longer is the outer one.</summary>
    private void Nest()
    {
        var open = new Stack<Section>();
        var next = 0;
        var sections = All.OrderBy(section => section.Start).ThenByDescending(section => section.End).ToList();
        for (var bar = 0; bar < _bars.Count; bar++)
        {
            while (open.Count > 0 && open.Peek().End < bar) open.Pop();
            for (; next < sections.Count && sections[next].Start == bar; next++)
            {
                sections[next].Around = open.Count > 0 ? open.Peek() : null;
                open.Push(sections[next]);
            }
            _innermost[bar] = open.Count > 0 ? open.Peek() : null;
        }
    }

    private void Take(int i)
    {
        var bar = _bars[i];
        if (i > 0 && bar.Movement != _bars[i - 1].Movement)
        {
            CloseAll();
            _behindLast = i;
        }
        // Signs of both at one bar: a repeat inside the ending, or a section that begins with its first ending.
        var isInside = bar is { RepeatStarts: true, EndingStarts: true } && RepeatIsInsideEnding(i);
        if (isInside) StartEnding(i);
        if (bar.RepeatStarts) Open(i);
        if (bar.EndingStarts && !isInside) StartEnding(i);
        if (bar.Plays > 1) Return(i);
        if (_open.Count > 0 && _open.Peek() is { Ending: { } ending } frame && ending.End == i) StopEnding(frame, ending, i);
    }

    private bool RepeatIsInsideEnding(int i)
    {
        if (_open.Count > 0 && _open.Peek() is { Section.Endings.Count: > 0, Ending: null }) return true;   // a later ending of a section
        var signs = 0;
        for (var k = i; k < _bars.Count && (k == i || !_bars[k].EndingStarts); k++)
        {
            if (_bars[k].Plays > 1) signs++;
            if (_bars[k].EndingStops) break;
        }
        return signs > 1;
    }

    private void Open(int i)
    {
        if (_open.Count < DeepestNesting) _open.Push(new Frame(i));
        else _notices.Warn("MX064", _bars[i].Line, BarNames.Of(_bars, i), $"more than {DeepestNesting} repeats begin one inside the other; this one is left out");
    }

    private Frame Current()
    {
        if (_open.Count == 0) _open.Push(new Frame(_behindLast));
        return _open.Peek();
    }

    private void StartEnding(int i)
    {
        var frame = Current();
        frame.Section ??= new Section(frame.Start);
        var ending = new Ending(i, _bars[i].EndingPasses) { End = EndOfEnding(i, frame.Section.Endings.Count == 0 && _bars[i].EndingPasses[0] == 1) };
        frame.Section.Endings.Add(ending);
        frame.Ending = ending;
        EndingAt[i] = (frame.Section, ending);
    }

    /// <summary>
    /// The last bar of an ending. A bracket whose line breaks off early (discontinue) goes on to the repeat sign, if one
    /// comes before any other sign and this cannot be the last ending.
    /// </summary>
    private int EndOfEnding(int from, bool isFirst)
    {
        var stop = from;
        while (stop + 1 < _bars.Count && !_bars[stop].EndingStops && !_bars[stop + 1].EndingStarts) stop++;
        if (_bars[stop].Plays > 1) return stop;
        for (var i = stop + 1; i < _bars.Count && !_bars[i].EndingStarts && !_bars[i].RepeatStarts && _bars[i].Movement == _bars[from].Movement; i++)
            if (_bars[i].Plays > 1)
                return isFirst || (i + 1 < _bars.Count && _bars[i + 1].EndingStarts) ? i : stop;
        return stop;
    }

    private void Return(int i)
    {
        var bar = _bars[i];
        var frame = Current();
        var section = frame.Section ??= new Section(frame.Start);
        ReturnAt[i] = section;
        section.AgainAfterJump |= bar.RepeatsAfterJump;
        if (frame.Ending is { } ending)
        {
            ending.Returns = true;
            section.Plays = Math.Max(section.Plays, bar.Plays);
            return;
        }
        (section.End, section.Plays) = (i, bar.Plays);
        Close(section);
    }

    private void StopEnding(Frame frame, Ending ending, int i)
    {
        frame.Ending = null;
        var section = frame.Section!;
        if (i + 1 < _bars.Count && _bars[i + 1] is { EndingStarts: true } next && (!next.RepeatStarts || next.EndingPasses[0] > 1) && next.Movement == _bars[i].Movement
            && !next.EndingPasses.Any(pass => section.Endings.Exists(other => other.Passes.Contains(pass)))) return;

        section.End = i;
        var highest = section.Endings.Max(other => other.Passes[^1]);
        var said = section.Plays > 2 ? section.Plays : 0;   // a "times" beyond the usual two
        if (section.Endings.TrueForAll(other => !other.Returns))
        {
            if (section.Endings.Count > 1 || highest > 1)
                _notices.Warn("MX061", _bars[section.Endings[0].Start].Line, BarNames.Of(_bars, section.Endings[0].Start), "endings without a repeat sign; they are played one after the other");
            foreach (var other in section.Endings) EndingAt[other.Start] = null;
            frame.Section = null;   // what begins before them is still to be closed
            return;
        }
        else
        {
            section.Plays = Math.Max(said, section.Endings.Count == 1 ? highest + 1 : highest);
            if (section.Endings.Count > 1 && ending.Returns && said <= highest)
                _notices.Warn("MX062", _bars[i].Line, BarNames.Of(_bars, i), "the last ending has a repeat sign too; it is not played again");
            for (var pass = 1; pass <= highest; pass++)
                if (!section.Endings.Exists(other => other.Passes.Contains(pass)))
                    _notices.Warn("MX063", _bars[i].Line, BarNames.Of(_bars, i), $"no ending is meant for pass {pass}; the one before it stands in");
        }
        Close(section);
    }

    private void Close(Section section)
    {
        _open.Pop();
        _behindLast = section.End + 1;
        All.Add(section);
    }

    private void CloseAll()
    {
        foreach (var frame in _open)
        {
            if (frame.Section is { } section) All.Add(section);
            if (_bars[frame.Start].RepeatStarts)
                _notices.Warn("MX060", _bars[frame.Start].Line, BarNames.Of(_bars, frame.Start), "a repeat begins here and ends nowhere; it is played once");
        }
        _open.Clear();
    }

    private sealed class Frame(int start)
    {
        internal int Start => start;

        internal Section? Section { get; set; }

        /// <summary>The ending that is open.</summary>
        internal Ending? Ending { get; set; }
    }
}
