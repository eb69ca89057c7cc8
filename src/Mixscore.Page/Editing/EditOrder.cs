using Mixscore.Planning;

namespace Mixscore.Page;

/// <summary>What a page orders of the plan.</summary>
internal abstract record EditOrder
{
    /// <summary>Sets, moves or adds a mark.</summary>
    /// <param name="Source">The source's name.</param>
    /// <param name="Key">Its position or range as it is written; <c>null</c> for a new one.</param>
    /// <param name="Becomes">Where it shall be, as it shall be written.</param>
    /// <param name="Level">Its level, as a person writes it.</param>
    /// <param name="Was">The level that the page saw; an edit of something else is a clash.</param>
    internal sealed record Mark(string Source, string? Key, string Becomes, string Level, string? Was) : EditOrder;

    /// <summary>Takes a mark out.</summary>
    internal sealed record Unmark(string Source, string Key, string? Was) : EditOrder;

    /// <summary>How far a source may stray, in LU.</summary>
    internal sealed record Within(string Source, double By) : EditOrder;

    /// <summary>Pins a vertex, or lets it go.</summary>
    /// <param name="Source">The source's name.</param>
    /// <param name="Key">The beat on which it stands, as it is or shall be written.</param>
    /// <param name="Gain">dB; <c>null</c> to let it go.</param>
    internal sealed record Pin(string Source, string Key, double? Gain) : EditOrder;

    /// <summary>Takes what a night suggests.</summary>
    /// <param name="Log">The night's log.</param>
    /// <param name="Key">Which of its proposals; <c>null</c> for all.</param>
    internal sealed record Learn(string Log, string? Key) : EditOrder;

    /// <summary>Writes proposals into the plan.</summary>
    internal sealed record Accept(IReadOnlyList<FoldProposal> Proposals) : EditOrder;

    internal sealed record Undo : EditOrder;

    internal sealed record Redo : EditOrder;

    /// <summary>What becomes of an edit that is not in the file.</summary>
    internal sealed record Settle(SettleKind How) : EditOrder;
}

/// <summary>Ways to settle a clash or a write that failed.</summary>
internal enum SettleKind
{
    /// <summary>Write it once more.</summary>
    Again,

    /// <summary>The page's plan takes the place of the one on disk.</summary>
    Mine,

    /// <summary>The plan on disk is taken.</summary>
    Theirs,

    /// <summary>The page's plan goes into a file beside it.</summary>
    Beside,
}
