namespace Mixscore.Planning;

/// <summary>Fits a source with other marks, as <c>fit</c> will once they stand in the plan.</summary>
internal sealed class FoldFit
{
    private readonly FoldGrid _grid;
    private readonly Limits _limits;
    private readonly Dictionary<string, SourceToFit> _sources;
    private readonly bool _mustFitAll;

    internal FoldFit(PlanOnScore onScore, FoldGrid grid, IReadOnlyList<SourceToFit> sources)
    {
        (_grid, _limits) = (grid, onScore.Plan.Limits);
        _sources = sources.ToDictionary(source => source.Name, StringComparer.Ordinal);
        // A mark that is to be clear draws the others in.
        _mustFitAll = onScore.Plan.Levels.Any(levels => levels.Marks.Any(mark => mark.Clear is not null));
    }

    internal SourceToFit this[string name] => _sources[name];

    /// <summary>From now on a source is so.</summary>
    internal void Set(SourceToFit source) => _sources[source.Name] = source;

    /// <summary>A source's ride if it were so.</summary>
    internal Ride Ride(SourceToFit source)
    {
        var needed = new Dictionary<string, SourceToFit>(StringComparer.Ordinal);
        if (_mustFitAll) foreach (var (name, other) in _sources) needed[name] = other;
        Need(source);
        return RideFitter.Fit(_grid.Timeline, _limits, [.. needed.Values]).First(fitted => fitted.Source == source.Name).Ride;

        void Need(SourceToFit one)
        {
            needed[one.Name] = one;
            foreach (var name in one.Levels.LeansOn)
                if (!needed.ContainsKey(name)) Need(_sources[name]);
        }
    }
}
