namespace Mixscore.Score;

/// <summary>The signs of a score and what they point at. Bars are counted from 0 here.</summary>
internal sealed class Signs
{
    private readonly IReadOnlyList<WrittenBar> _bars;
    private readonly List<(int Bar, Jump Jump)> _all;
    private readonly int[] _starts;   // first bar of each movement
    private readonly bool[] _goesBack;
    private readonly bool[] _hasEnd;

    internal Signs(IReadOnlyList<WrittenBar> bars)
    {
        _bars = bars;
        _starts = [.. bars.Select((bar, i) => (bar, i)).Where(pair => pair.i == 0 || bars[pair.i - 1].Movement != pair.bar.Movement).Select(pair => pair.i)];
        _all = [.. bars.SelectMany((bar, i) => bar.Jumps.Select(jump => (i, jump)))];
        MakeLeavingSigns();
        _goesBack = [.. Enumerable.Range(1, Movements).Select(movement => Any(movement, jump => jump.Kind is JumpKind.DaCapo or JumpKind.DalSegno))];
        _hasEnd = [.. Enumerable.Range(1, Movements).Select(movement => Any(movement, jump => jump.Kind is JumpKind.Fine or JumpKind.ToCoda))];
        ByBar = new List<Jump>?[bars.Count];
        foreach (var (bar, jump) in _all) (ByBar[bar] ??= []).Add(jump);
    }

    /// <summary>The signs of each bar; <c>null</c> for none.</summary>
    internal List<Jump>?[] ByBar { get; }

    internal IEnumerable<(int Bar, Jump Jump)> All => _all;

    internal int Movements => _starts.Length;

    internal int StartOf(int movement) => _starts[movement - 1];

    /// <summary>The first bar behind a movement.</summary>
    internal int EndOf(int movement) => movement < _starts.Length ? _starts[movement] : _bars.Count;

    /// <summary>Whether a movement has a D.C. or D.S.</summary>
    internal bool GoesBack(int movement) => _goesBack[movement - 1];

    /// <summary>Whether a movement has a Fine or a To Coda.</summary>
    internal bool HasEnd(int movement) => _hasEnd[movement - 1];

    private bool Any(int movement, Func<Jump, bool> wanted) => In(movement).Any(sign => wanted(sign.Jump));

    /// <summary>The segno that a D.S. goes back to: its namesake, or the nearest before it, or the first of the movement.</summary>
    internal int? SegnoFor(int bar, string name) => Target(bar, name, JumpKind.Segno, before: true);

    /// <summary>The coda that a To Coda leaps to: its namesake, or the nearest behind it, or the last of the movement.</summary>
    internal int? CodaFor(int bar, string name) => Target(bar, name, JumpKind.Coda, before: false);

    private int? Target(int from, string name, JumpKind kind, bool before)
    {
        var targets = In(_bars[from].Movement).Where(sign => sign.Jump.Kind == kind).ToList();
        var named = targets.FindAll(sign => sign.Jump.Name == name && name.Length > 0);
        if (named.Count > 0) targets = named;
        if (targets.Count == 0) return null;
        if (before) return targets.FindLastIndex(sign => sign.Bar <= from) is var i and >= 0 ? targets[i].Bar : null;
        return targets.FindIndex(sign => sign.Bar > from) is var k and >= 0 ? targets[k].Bar : null;
    }

    private IEnumerable<(int Bar, Jump Jump)> In(int movement) => _all.Where(sign => _bars[sign.Bar].Movement == movement);

    /// <summary>
    /// Where a jump goes "al Coda", no To Coda is written and two bare coda signs stand: the first is the sign to leave at.
    /// </summary>
    private void MakeLeavingSigns()
    {
        for (var movement = 1; movement <= Movements; movement++)
        {
            if (!Any(movement, jump => jump.Until == JumpUntil.Coda) || Any(movement, jump => jump.Kind == JumpKind.ToCoda)) continue;
            var codas = In(movement).Where(sign => sign.Jump.Kind == JumpKind.Coda).ToList();
            if (codas.Count != 2 || !codas[0].Jump.WordsOnly) continue;
            _all[_all.IndexOf(codas[0])] = (codas[0].Bar, codas[0].Jump with { Kind = JumpKind.ToCoda });
        }
    }
}
