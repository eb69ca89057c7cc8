using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>One change that the hands suggest.</summary>
public sealed record FoldProposal
{
    /// <summary>What would change.</summary>
    public required FoldKind Kind { get; init; }

    /// <summary>The source.</summary>
    public required string Source { get; init; }

    /// <summary>From where on.</summary>
    public required Position From { get; init; }

    /// <summary>Up to where.</summary>
    public required Position To { get; init; }

    /// <summary>What the plan says, as the plan's language writes it.</summary>
    public required string Was { get; init; }

    /// <summary>What it would say.</summary>
    public required string Becomes { get; init; }

    /// <summary>The marks that make it so, in order; empty where no mark changes.</summary>
    public IReadOnlyList<MarkEdit> Edits { get; init; } = [];

    /// <summary>The hall whose file an offset goes to; <c>null</c> for the plan itself.</summary>
    public string? Hall { get; init; }

    /// <summary>The nights that say so.</summary>
    public IReadOnlyList<FoldNight> Nights { get; init; } = [];

    /// <summary>What lies behind it, in words, such as <c>2–3 dB up all night</c>.</summary>
    public required string Because { get; init; }
}

/// <summary>What a proposal changes.</summary>
public enum FoldKind
{
    /// <summary>Marks: their levels, or how closely these are kept.</summary>
    Mark,

    /// <summary>A lasting offset of the source.</summary>
    Offset,
}

/// <summary>One mark set or taken out.</summary>
/// <param name="Mark">The mark: as it shall be, or the one to take out.</param>
/// <param name="IsRemoved">Whether it is taken out.</param>
public sealed record MarkEdit(Mark Mark, bool IsRemoved);
