namespace Mixscore.Score;

/// <summary>A repeated stretch with its endings. Bars are counted from 0 here.</summary>
internal sealed class Section(int start)
{
    internal int Start { get; } = start;

    /// <summary>The last bar, endings included.</summary>
    internal int End { get; set; } = start;

    /// <summary>How often it is played in all.</summary>
    internal int Plays { get; set; } = 1;

    /// <summary>Whether it is repeated again after a jump back.</summary>
    internal bool AgainAfterJump { get; set; }

    internal List<Ending> Endings { get; } = [];

    /// <summary>The section that this one lies in; <c>null</c> for none.</summary>
    internal Section? Around { get; set; }

    /// <summary>The ending that is played on a pass; <c>null</c> where the pass goes past all of them.</summary>
    internal Ending? EndingOn(int pass)
    {
        foreach (var ending in Endings) if (ending.Passes.Contains(pass)) return ending;
        // A lone first ending is left out on the last pass; among several, the nearest one before stands in for a missing one.
        return Endings.Count <= 1 ? null : Endings.Where(ending => ending.Passes[0] <= pass).MaxBy(ending => ending.Passes[0]) ?? Endings[0];
    }
}

/// <summary>One ending of a section.</summary>
internal sealed class Ending(int start, IReadOnlyList<int> passes)
{
    internal int Start { get; } = start;

    internal int End { get; set; } = start;

    internal IReadOnlyList<int> Passes => passes;

    /// <summary>Whether a repeat sign stands at its end.</summary>
    internal bool Returns { get; set; }
}
