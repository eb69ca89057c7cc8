namespace Mixscore.Planning;

/// <summary>Where the vertices of rides may stand.</summary>
public enum VertexGrid
{
    /// <summary>On every beat.</summary>
    Beats,

    /// <summary>On every beat and half-way between two.</summary>
    Halves,

    /// <summary>On every bar line.</summary>
    Bars,
}
