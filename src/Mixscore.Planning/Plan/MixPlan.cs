using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The whole plan as it stands in a <c>*.mix.yaml</c> file, read and checked against itself but not yet
/// against the score.</summary>
public sealed record MixPlan
{
    /// <summary>The plan's file, as a full path; its folder is the project folder.</summary>
    public required string File { get; init; }

    /// <summary>The title.</summary>
    public required string Title { get; init; }

    /// <summary>The score's file, as written in the plan: relative to the project folder.</summary>
    public required string Score { get; init; }

    /// <summary>Where <see cref="Score"/> is named.</summary>
    public Place ScorePlace { get; init; }

    /// <summary>The loudness that 0 LU stands for.</summary>
    public Lufs Reference { get; init; } = new(-23);

    /// <summary>Tempo where the score leaves it open, in the order of the file.</summary>
    public IReadOnlyList<TempoEntry> Tempo { get; init; } = [];

    /// <summary>The file whose tempo takes the place of the score's; <c>null</c> for the score's own. <see cref="Tempo"/> wins over both.</summary>
    public WrittenTempoFile? TempoFrom { get; init; }

    /// <summary>Whether repeats are played; otherwise every section is played once, with its last ending.</summary>
    public bool WithRepeats { get; init; } = true;

    /// <summary>The sites, in the order of the file.</summary>
    public IReadOnlyList<Site> Sites { get; init; } = [];

    /// <summary>The sources, in the order of the file.</summary>
    public IReadOnlyList<Source> Sources { get; init; } = [];

    /// <summary>The marks of each source that has some, in the order of the file.</summary>
    public IReadOnlyList<SourceLevels> Levels { get; init; } = [];

    /// <summary>Who leads, in the order of the file; where nothing is written the loudest by level.</summary>
    public IReadOnlyList<LeadMark> Lead { get; init; } = [];

    /// <summary>The pins of each source that has some, in the order of the file.</summary>
    public IReadOnlyList<SourcePins> Pins { get; init; } = [];

    /// <summary>Where the vertices of rides may stand; a source may say otherwise.</summary>
    public VertexGrid Grid { get; init; }

    /// <summary>What a fader may do, and what the mix may reach.</summary>
    public Limits Limits { get; init; } = new();

    /// <summary>The LU that each dynamic stands for.</summary>
    public DynamicsTable Dynamics { get; init; } = DynamicsTable.Ours;

    /// <summary>How the click is counted in and divided.</summary>
    public ClickSettings Click { get; init; } = new();

    /// <summary>What the players are told.</summary>
    public CallSettings Call { get; init; } = new();

    /// <summary>The place where the mix is heard.</summary>
    public Hall Hall { get; init; } = new();

    /// <summary>The project folder.</summary>
    public string Folder => Path.GetDirectoryName(File) ?? ".";
}
