using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The grids that sources ask for, each made once.</summary>
internal sealed class FaderGrids
{
    private readonly Dictionary<VertexGrid, FaderGrid> _grids;

    public FaderGrids(Timeline timeline, Limits limits, IEnumerable<SourceToFit> sources) =>
        _grids = sources.Select(source => source.Grid).Distinct().ToDictionary(grid => grid, grid => new FaderGrid(timeline, limits, grid));

    /// <summary>The grid of a source.</summary>
    public FaderGrid this[SourceToFit source] => _grids[source.Grid];
}
