namespace Mixscore.Planning;

/// <summary>The plan's <c>click:</c>.</summary>
public sealed record ClickSettings
{
    /// <summary>How many bars are counted before the piece, its pickup among them; 0 for none. Two: common practice, no source.</summary>
    public int CountIn { get; init; } = 2;

    /// <summary>The tempo of the count-in in quarters a minute; <c>null</c> for the one that the piece begins in.</summary>
    public double? CountInTempo { get; init; }

    /// <summary>Into how many parts a beat is divided; 1 for none. Beats that stand in groups (6/8) and held beats are not.</summary>
    public int Subdivide { get; init; } = 1;
}
