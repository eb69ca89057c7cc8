using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary><c>levels:</c>: under each source, positions or ranges and what should be heard of it there.</summary>
internal sealed class LevelsSection
{
    private readonly IReadOnlyList<string> _names;
    private readonly DynamicsTable _dynamics;
    private readonly FaultList _faults;
    private readonly Dictionary<string, List<(string On, Place Place)>> _leans = new(StringComparer.Ordinal);

    private LevelsSection(IReadOnlyList<string> names, DynamicsTable dynamics, FaultList faults) =>
        (_names, _dynamics, _faults) = (names, dynamics, faults);

    internal static IReadOnlyList<SourceLevels> Read(YamlPair? pair, IReadOnlyList<string> names, DynamicsTable dynamics, FaultList faults)
    {
        if (pair is null || !Section.IsMap("the levels", pair.Value, faults, "write a source's name and a colon, and its marks under it",
            out var map))
            return [];
        var section = new LevelsSection(names, dynamics, faults);
        var levels = (map?.Pairs ?? []).Select(section.ReadSource).Where(read => read is not null).Select(read => read!).ToList();
        section.RefuseCircles();
        return levels;
    }

    private SourceLevels? ReadSource(YamlPair pair)
    {
        var (source, place) = (pair.Key.Value, pair.Key.Place);
        if (!_names.Contains(source)) UnknownSource(source, place, source);
        if (!Section.IsMap("a list of marks", pair.Value, _faults, $"write marks under {source}, such as \"1: -18\"", out var map))
            return null;
        var marks = (map?.Pairs ?? []).Select(one => ReadMark(source, one)).Where(mark => mark is not null).Select(mark => mark!);
        return new SourceLevels(source, [.. marks], place);
    }

    private Mark? ReadMark(string source, YamlPair pair)
    {
        var spoken = $"{source}, {RangeText.Spoken(pair.Key.Value)}";
        var problem = RangeText.Read(pair.Key.Value, out var from, out var to);
        if (problem is not null) _faults.Add(problem.Code, pair.Key.Place, $"{source}: {problem.Found}", problem.Remedy);
        if (pair.Value is not YamlText text)
        {
            _faults.Add(PlanFault.WrongKind, pair.Value.Place, $"{spoken}: more than one level stands here",
                "write one level after the colon, such as \"-20 LU\"");
            return null;
        }
        var place = pair.IsEmpty ? pair.Key.Place : text.Place;
        var (start, end) = ((Level)new Level.Off(), (Level)new Level.Off());
        if (MarkText.Read(text.Value, _dynamics, out start, out end, out var within, out var clear) is { } wrong)
        {
            _faults.Add(wrong.Code, place, $"{spoken}: {wrong.Found}", wrong.Remedy);
            return null;
        }
        if (!ReferenceEquals(start, end) && to is null && problem is null)
            _faults.Add(PlanFault.MoveWithoutRange, place, $"{spoken}: a move needs a range to move over",
                $"write where it ends before the colon, such as \"{pair.Key.Value}..end\"");
        if (start is Level.Lean lean) NoteLeans(source, lean, place, spoken);
        return problem is null ? new Mark(from, to, start, end, pair.Key.Place) { Within = within, Clear = clear } : null;
    }

    private void NoteLeans(string source, Level.Lean lean, Place place, string spoken)
    {
        foreach (var on in lean.Sources)
        {
            if (!_names.Contains(on)) UnknownSource(on, place, spoken);
            if (!_leans.TryGetValue(source, out var leans)) _leans[source] = leans = [];
            leans.Add((on, place));
        }
    }

    private void UnknownSource(string name, Place place, string spoken) => _faults.Add(PlanFault.UnknownSource, place,
        (spoken == name ? "" : spoken + ": ") + $"there is no source \"{name}\"", _names.Count == 0 ? "add it under sources"
            : Nearest.Remedy(name, _names, "the sources are"));

    private void RefuseCircles()
    {
        LeanOrder.Of([.. _names.Where(_leans.ContainsKey)], name => [.. _leans[name].Select(lean => lean.On).Distinct()], out var circles);
        foreach (var circle in circles)
            _faults.Add(PlanFault.Circle, _leans[circle[^1]].First(lean => lean.On == circle[0]).Place, LeanOrder.Spoken(circle),
                "give one of them a level of its own");
    }
}
