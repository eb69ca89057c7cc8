using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Finds the parts that sources name, by id or by name.</summary>
internal static class PartFinder
{
    internal static Part? Find(Source source, IReadOnlyList<Part> parts, FaultList faults)
    {
        if (source.Part is not { } wanted) return null;
        var part = Named(source, wanted, parts, faults);
        if (part is not null && source.Staff > part.Staves)
            faults.Add(PlanFault.UnknownPart, source.StaffPlace ?? source.Place, $"{source.Name}: part {part.Id} has {part.Staves} {(part.Staves == 1 ? "staff" : "staves")}, so there is no staff {source.Staff}",
                part.Staves == 1 ? "leave the staff out" : $"write a staff from 1 at the top to {part.Staves}");
        return part;
    }

    private static Part? Named(Source source, string wanted, IReadOnlyList<Part> parts, FaultList faults)
    {
        if (parts.FirstOrDefault(part => part.Id == wanted) is { } byId) return byId;
        var byName = parts.Where(part => part.Name == wanted).ToList();
        if (byName.Count == 0) byName = [.. parts.Where(part => part.Name.Equals(wanted, StringComparison.OrdinalIgnoreCase))];
        if (byName.Count == 1) return byName[0];
        var place = source.PartPlace ?? source.Place;
        if (byName.Count > 1)
            faults.Add(PlanFault.UnknownPart, place, $"{source.Name}: {byName.Count} parts are named \"{wanted}\"",
                $"write an id: {string.Join(", ", byName.Select(part => part.Id))}");
        else
            faults.Add(PlanFault.UnknownPart, place, $"{source.Name}: the score has no part \"{wanted}\"",
                Nearest.Remedy(wanted,
                    [.. parts.Select(part => part.Id), .. parts.Select(part => part.Name).Where(name => name.Length > 0).Distinct()],
                    "its parts are"));
        return null;
    }
}
