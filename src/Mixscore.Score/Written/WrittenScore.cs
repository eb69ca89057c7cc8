namespace Mixscore.Score;

/// <summary>A score as written: what a reader took from the file. Bars count from 1 in the order of the file.</summary>
public sealed record WrittenScore
{
    /// <summary>The file that it was read from, as the user named it; empty where it came from none.</summary>
    public string File { get; init; } = "";

    /// <summary>The title; empty where the file gives none.</summary>
    public required string Title { get; init; }

    /// <summary>Whether the file counts seconds (SMPTE time) and its quarters are only made of them: half a second each.</summary>
    public bool CountsSeconds { get; init; }

    /// <summary>The bars; at least one.</summary>
    public required IReadOnlyList<WrittenBar> Bars { get; init; }

    /// <summary>The parts, in the order of the file.</summary>
    public IReadOnlyList<Part> Parts { get; init; } = [];

    /// <summary>Groups of parts that the score brackets together, in the order in which they begin; a part may be in several.</summary>
    public IReadOnlyList<PartGroup> Groups { get; init; } = [];

    /// <summary>Tempo marks in order of their places.</summary>
    public IReadOnlyList<WrittenTempo> Tempo { get; init; } = [];

    /// <summary>Rehearsal letters in order.</summary>
    public IReadOnlyList<WrittenLetter> Letters { get; init; } = [];

    /// <summary>Fermatas, each place once, in order.</summary>
    public IReadOnlyList<WrittenPlace> Fermatas { get; init; } = [];

    /// <summary>Words that ask for a gradual change of tempo (rit., accel. …), in order; their length is the plan's to say.</summary>
    public IReadOnlyList<GradualTempo> GradualTempo { get; init; } = [];

    /// <summary>All that was not taken, or needs a look; severity is always <see cref="Severity.Warning"/>.</summary>
    public IReadOnlyList<Fault> Warnings { get; init; } = [];
}

/// <summary>A tempo as written.</summary>
/// <param name="At">Where it stands.</param>
/// <param name="QuartersPerMinute">Above zero.</param>
public sealed record WrittenTempo(WrittenPlace At, double QuartersPerMinute);

/// <summary>A rehearsal letter, number or word.</summary>
/// <param name="Name">As printed.</param>
/// <param name="Bar">The bar in the file that it stands over, from 1.</param>
public sealed record WrittenLetter(string Name, int Bar);

/// <summary>Words such as <c>rit.</c> or <c>accel.</c>.</summary>
/// <param name="At">Where they stand.</param>
/// <param name="Words">As printed.</param>
/// <param name="Change">What they ask for.</param>
public sealed record GradualTempo(WrittenPlace At, string Words, TempoChange Change = TempoChange.Slower);

/// <summary>What words ask of the tempo without saying how much.</summary>
public enum TempoChange
{
    /// <summary>Ever slower (rit., rall., allarg.).</summary>
    Slower,

    /// <summary>Ever faster (accel., string.).</summary>
    Faster,

    /// <summary>Back to an earlier tempo (a tempo, tempo I).</summary>
    Back,
}
