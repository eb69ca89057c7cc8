namespace Mixscore.Score;

/// <summary>A bar as printed, with all that decides in which order bars are played.</summary>
public sealed record WrittenBar
{
    /// <summary>Its place in the file, from 1.</summary>
    public required int Number { get; init; }

    /// <summary>Its printed number, such as <c>12</c> or <c>12a</c>; not always a number, not always unique.</summary>
    public required string Label { get; init; }

    /// <summary>The line of the file where it begins, from 1; 0 where the file has no lines.</summary>
    public int Line { get; init; }

    /// <summary>The movement, from 1.</summary>
    public int Movement { get; init; } = 1;

    /// <summary>The meter in force.</summary>
    public required Meter Meter { get; init; }

    /// <summary>As long as its fullest part; an empty bar lasts its meter.</summary>
    public required Quarters Length { get; init; }

    /// <summary>Whether a repeated section begins here.</summary>
    public bool RepeatStarts { get; init; }

    /// <summary>How often the section that ends here is played in all; 1 where no repeat ends here.</summary>
    public int Plays { get; init; } = 1;

    /// <summary>Whether the repeat that ends here is taken again after a jump back.</summary>
    public bool RepeatsAfterJump { get; init; }

    /// <summary>The passes on which this bar is played, where it stands under an ending; empty where it always is.</summary>
    public IReadOnlyList<int> EndingPasses { get; init; } = [];

    /// <summary>Whether an ending begins at this bar.</summary>
    public bool EndingStarts { get; init; }

    /// <summary>Whether an ending stops at this bar.</summary>
    public bool EndingStops { get; init; }

    /// <summary>Jumps, targets and stops that stand in this bar, in order.</summary>
    public IReadOnlyList<Jump> Jumps { get; init; } = [];
}
