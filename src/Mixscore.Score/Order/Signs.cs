namespace Mixscore.Score;

/// <summary>The signs of a score and what they point at. Bars are counted from 0 here.</summary>
internal sealed class Signs
{
    private readonly IReadOnlyList<WrittenBar> _bars;
    private readonly List<(int Bar, Jump Jump)> _all;
    private readonly int[] _starts;   // first bar of each movement
    private readonly bool[] _goesBack;
    private readonly bool[] _hasEnd;
    private readonly HashSet<(int Movement, JumpUntil Until)> _said = [];
    private readonly Dictionary<(int Movement, JumpKind Kind), List<int>> _targets = [];
    private readonly Dictionary<(int Movement, JumpKind Kind, string Name), List<int>> _named = [];

    internal Signs(IReadOnlyList<WrittenBar> bars)
    {
        _bars = bars;
        _starts = [.. bars.Select((bar, i) => (bar, i)).Where(pair => pair.i == 0 || bars[pair.i - 1].Movement != pair.bar.Movement).Select(pair => pair.i)];
        _all = [.. bars.SelectMany((bar, i) => bar.Jumps.Select(jump => (i, jump)))];
        MakeLeavingSigns();
        _goesBack = new bool[Movements + 1];
        _hasEnd = new bool[Movements + 1];
        ByBar = new List<Jump>?[bars.Count];
        foreach (var (bar, jump) in _all)
        {
            var movement = bars[bar].Movement;
            _goesBack[movement] |= jump.Kind is JumpKind.DaCapo or JumpKind.DalSegno;
            _hasEnd[movement] |= jump.Kind is JumpKind.Fine or JumpKind.ToCoda;
            _said.Add((movement, jump.Until));
            (ByBar[bar] ??= []).Add(jump);
            if (jump.Kind is JumpKind.Segno or JumpKind.Coda) AddTarget(movement, bar, jump);
        }
    }

    /// <summary>The signs of each bar; <c>null</c> for none.</summary>
    internal List<Jump>?[] ByBar { get; }

    internal IEnumerable<(int Bar, Jump Jump)> All => _all;

    internal int Movements => _starts.Length;

    internal int StartOf(int movement) => _starts[movement - 1];

    /// <summary>The first bar behind a movement.</summary>
    internal int EndOf(int movement) => movement < _starts.Length ? _starts[movement] : _bars.Count;

    /// <summary>Whether a movement has a D.C. or D.S.</summary>
    internal bool GoesBack(int movement) => _goesBack[movement];

    /// <summary>Whether a movement has a Fine or a To Coda.</summary>
    internal bool HasEnd(int movement) => _hasEnd[movement];

    /// <summary>Whether some jump of a movement says that it goes on to this end, so that those that say nothing do not.</summary>
    internal bool Says(int movement, JumpUntil until) => _said.Contains((movement, until));

    /// <summary>The segno that a D.S. goes back to: the nearest before it of its namesakes, or where it has none of all.</summary>
    internal int? SegnoFor(int bar, string name)
    {
        var targets = Targets(bar, name, JumpKind.Segno);
        var found = targets.BinarySearch(bar);
        return found >= 0 ? targets[found] : ~found > 0 ? targets[~found - 1] : null;
    }

    /// <summary>The coda that a To Coda leaps to: the nearest behind it of its namesakes, or where it has none of all.</summary>
    internal int? CodaFor(int bar, string name)
    {
        var targets = Targets(bar, name, JumpKind.Coda);
        var found = targets.BinarySearch(bar + 1);
        return found >= 0 ? targets[found] : ~found < targets.Count ? targets[~found] : null;
    }

    private List<int> Targets(int bar, string name, JumpKind kind)
    {
        var movement = _bars[bar].Movement;
        return name.Length > 0 && _named.TryGetValue((movement, kind, name), out var namesakes) ? namesakes : _targets.GetValueOrDefault((movement, kind), []);
    }

    private void AddTarget(int movement, int bar, Jump jump)
    {
        Add(_targets, (movement, jump.Kind));
        if (jump.Name.Length > 0) Add(_named, (movement, jump.Kind, jump.Name));

        void Add<T>(Dictionary<T, List<int>> lists, T key) where T : notnull
        {
            if (!lists.TryGetValue(key, out var list)) lists[key] = list = [];
            if (list.Count == 0 || list[^1] != bar) list.Add(bar);
        }
    }

    /// <summary>
    /// Where a jump goes "al Coda", no To Coda is written and two bare coda signs stand: the first is the sign to leave at.
    /// </summary>
    private void MakeLeavingSigns()
    {
        foreach (var movement in _all.GroupBy(sign => _bars[sign.Bar].Movement).ToList())
        {
            if (!movement.Any(sign => sign.Jump.Until == JumpUntil.Coda) || movement.Any(sign => sign.Jump.Kind == JumpKind.ToCoda)) continue;
            var codas = movement.Where(sign => sign.Jump.Kind == JumpKind.Coda).ToList();
            if (codas.Count != 2 || !codas[0].Jump.WordsOnly) continue;
            var (bar, jump) = codas[0];
            _all[_all.IndexOf(codas[0])] = (jump.StoodBefore ? bar - 1 : bar, jump with { Kind = JumpKind.ToCoda });
        }
    }
}
