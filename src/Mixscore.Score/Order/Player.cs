namespace Mixscore.Score;

/// <summary>Goes through a score as a player does and notes each bar. Bars are counted from 0 here.</summary>
internal sealed class Player(IReadOnlyList<WrittenBar> bars, Sections sections, Notices notices, bool withRepeats)
{
    private readonly Signs _signs = new(bars);
    private readonly List<PlayedStep> _steps = [];
    private readonly int[] _count = new int[bars.Count];
    private readonly Dictionary<Section, int> _pass = [];
    private readonly HashSet<(int Bar, Jump Jump)> _taken = [];
    private readonly HashSet<(string Code, int Bar)> _warned = [];
    private readonly ILookup<int, Section> _starting = sections.All.ToLookup(section => section.Start);

    private bool _jumped;
    private JumpUntil _until;
    private int _behindJump;   // where the next movement begins, once Fine is reached

    internal IReadOnlyList<PlayedStep> Play()
    {
        var at = 0;
        Section? returned = null;
        while (at < bars.Count)
        {
            if (_steps.Count >= PlayOrder.MostSteps) return Straight();
            if (at > 0 && _signs.StartOf(bars[at].Movement) == at && returned is null && (!_jumped || at >= _behindJump)) _jumped = false;
            foreach (var section in _starting[at]) if (section != returned) _pass[section] = FirstPass(section);
            returned = null;
            if (sections.EndingAt[at] is { } ending && ending.Section.EndingOn(PassOf(ending.Section)) != ending.Ending)
            {
                at = ending.Ending.End + 1;
                continue;
            }
            _steps.Add(new PlayedStep(at + 1, ++_count[at]));
            (at, returned) = Next(at);
        }
        SayWhatIsNeverPlayed();
        return _steps;
    }

    private int PassOf(Section section) => _pass.TryGetValue(section, out var pass) ? pass : _pass[section] = FirstPass(section);

    /// <summary>A section that is not to be repeated is entered on its last pass.</summary>
    private int FirstPass(Section section) =>
        withRepeats && !(_jumped && !section.AgainAfterJump && _count[section.End] > 0) ? 1 : section.Plays;

    private (int At, Section? Returned) Next(int at)
    {
        if (Leave(at) is { } left) return (left, null);
        if (sections.ReturnAt[at] is { } section && PassOf(section) < section.Plays)
        {
            _pass[section]++;
            return (section.Start, section);
        }
        return (Back(at) ?? at + 1, null);
    }

    /// <summary>Where Fine or To Coda leads, if one is obeyed here.</summary>
    private int? Leave(int at)
    {
        foreach (var jump in _signs.ByBar[at] ?? [])
            if (jump.Kind == JumpKind.ToCoda && Obeys(jump, at, ToCodaIsDue(jump, at)))
            {
                if (_signs.CodaFor(at, jump.Name) is { } coda)
                {
                    _taken.Add((at, jump));
                    if (_until == JumpUntil.Coda) _until = JumpUntil.Unsaid;
                    Enter(coda);
                    return coda;
                }
                Warn("MX065", at, "To Coda finds no coda behind it; it is left out");
            }
        foreach (var jump in _signs.ByBar[at] ?? [])
            if (jump.Kind == JumpKind.Fine && Obeys(jump, at, _jumped && IsMeant(JumpUntil.Fine, at))) return EndMovement(at);
        return null;
    }

    private bool Obeys(Jump jump, int at, bool usually) => jump.Passes is { Count: > 0 } passes ? passes.Contains(_count[at]) : usually;

    /// <summary>After a jump back, once. Without any jump back in the movement, on the last pass of the repeat around it.</summary>
    private bool ToCodaIsDue(Jump jump, int at)
    {
        if (_taken.Contains((at, jump))) return false;
        if (_jumped) return IsMeant(JumpUntil.Coda, at);
        if (_signs.GoesBack(bars[at].Movement)) return false;
        return sections.Around(at).Any(section => section.Plays > 1 && PassOf(section) == section.Plays);
    }

    /// <summary>Whether the jump that was obeyed ends so: it says so, or it says nothing and no other jump of the movement does.</summary>
    private bool IsMeant(JumpUntil until, int at) => _until == until || (_until == JumpUntil.Unsaid && !_signs.Says(bars[at].Movement, until));

    private int EndMovement(int at)
    {
        var next = _jumped ? _behindJump : _signs.EndOf(bars[at].Movement);
        _jumped = false;
        return next;
    }

    /// <summary>Where D.C. or D.S. leads back to, if one is obeyed here.</summary>
    private int? Back(int at)
    {
        foreach (var jump in _signs.ByBar[at] ?? [])
        {
            if (jump.Kind is not (JumpKind.DaCapo or JumpKind.DalSegno) || !Obeys(jump, at, !_taken.Contains((at, jump)) && RepeatsAreDone(at))) continue;
            if (Home(at, jump) is not { } home) continue;
            _taken.Add((at, jump));
            (_jumped, _until, _behindJump) = (true, jump.Until, _signs.EndOf(bars[at].Movement));
            Enter(home);
            return home;
        }
        return null;
    }

    /// <summary>Whether the bar will not come again by the repeats around it.</summary>
    private bool RepeatsAreDone(int at) => sections.Around(at).All(section => PassOf(section) >= LastPass(section, at));

    private static int LastPass(Section section, int at) =>
        section.Endings.Find(ending => ending.Start <= at && at <= ending.End) is { } ending ? Math.Min(section.Plays, ending.Passes[^1]) : section.Plays;

    /// <summary>The bar that a jump goes back to, or <c>null</c>, with a warning, where it cannot be obeyed.</summary>
    private int? Home(int at, Jump jump)
    {
        var movement = bars[at].Movement;
        if (jump.Kind == JumpKind.DalSegno)
        {
            if (_signs.SegnoFor(at, jump.Name) is { } segno) return IsClear(at, jump, movement) ? segno : null;
            Warn("MX066", at, "D.S. finds no segno before it; it is left out");
            return null;
        }
        // Numbers that begin again with a trio make it look like a movement; the Fine tells that the one before is meant.
        var home = movement;
        if (movement > 1 && !_signs.HasEnd(movement) && _signs.HasEnd(movement - 1)) home--;
        if (!IsClear(at, jump, home)) return null;
        if (_signs.Movements > 1)
            Warn("MX067", at, $"D.C. in a file of several movements; it goes back to the start of movement {Roman.Write(home)}");
        return _signs.StartOf(home);
    }

    /// <summary>Words alone are obeyed only where it is clear where the playing ends.</summary>
    private bool IsClear(int at, Jump jump, int movement)
    {
        var name = jump.Kind == JumpKind.DaCapo ? "D.C." : "D.S.";
        if (_signs.HasEnd(movement)) return true;
        if (!jump.WordsOnly)
        {
            Warn("MX068", at, $"{name} without a Fine or To Coda: what follows is played again to the end");
            return true;
        }
        Warn("MX069", at, $"{name} stands only in words and no Fine or To Coda says where to stop; it is left out", "write the Fine into the score, or the bars out in full");
        return false;
    }

    /// <summary>Comes into the middle of repeated sections by a jump.</summary>
    private void Enter(int target)
    {
        foreach (var section in sections.Around(target))
            if (section.Start < target) _pass[section] = FirstPass(section);
    }

    private List<PlayedStep> Straight()
    {
        Warn("MX070", 0, $"the repeats and jumps make more than {PlayOrder.MostSteps} bars; the score is played straight through");
        return [.. bars.Select(bar => new PlayedStep(bar.Number, 1))];
    }

    private void SayWhatIsNeverPlayed()
    {
        if (!withRepeats) return;
        for (var i = 0; i < bars.Count; i++)
            if (_count[i] == 0) Warn("MX071", i, "never played by these repeats and jumps");
        var lastBack = _taken.Where(taken => taken.Jump.Kind is JumpKind.DaCapo or JumpKind.DalSegno).Select(taken => bars[taken.Bar].Movement).DefaultIfEmpty(0).Max();
        foreach (var (bar, jump) in _signs.All)
            if (jump.Kind == JumpKind.Fine && _steps[^1].Bar != bar + 1 && bars[bar].Movement > lastBack)
                Warn("MX072", bar, "Fine, but nothing leads back to before it; it is left out");
    }

    private void Warn(string code, int bar, string what, string remedy = "look at the played order that is printed; write the passage out in the score if it is not meant so")
    {
        if (_warned.Add((code, bar))) notices.Warn(code, bars[bar].Line, BarNames.Of(bars, bar), what, remedy);
    }
}
