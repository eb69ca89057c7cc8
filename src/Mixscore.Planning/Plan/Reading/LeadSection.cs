namespace Mixscore.Planning;

/// <summary><c>lead:</c>: positions and the source that leads from there on, or <c>loudest</c>.</summary>
internal static class LeadSection
{
    private const string Loudest = "loudest";

    internal static IReadOnlyList<LeadMark> Read(YamlPair? pair, IReadOnlyList<string> names, FaultList faults)
    {
        if (pair is null || !Section.IsMap("the leads", pair.Value, faults, "write a position, a colon and a source on each line, such as \"C: north.voice\"", out var map))
            return [];
        var leads = new List<LeadMark>();
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            var problem = RangeText.Read(key.Value, out var from, out var to);
            if (problem is null && to is not null)
                problem = new Problem(PlanFault.NotAPosition, $"\"{key.Value}\" is a range", "write where the lead begins; it holds until the next");
            if (problem is not null) faults.Add(problem.Code, key.Place, problem.Found, problem.Remedy);
            if (value is not YamlText text)
                faults.Add(PlanFault.WrongKind, value.Place, $"{RangeText.Spoken(key.Value)} holds more than a source", "write one source's name, or loudest");
            else if (text.Value != Loudest && !names.Contains(text.Value))
                faults.Add(PlanFault.UnknownSource, text.Place, $"there is no source \"{text.Value}\"", Nearest.Remedy(text.Value, [.. names, Loudest], "write loudest, or one of"));
            else if (problem is null) leads.Add(new LeadMark(from, text.Value == Loudest ? null : text.Value, key.Place));
        }
        return leads;
    }
}
