using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>Whether a desk map can carry a plan: what can only be said when hall and plan have met.</summary>
public static class DeskMapCheck
{
    /// <summary>Everything that is wrong between a plan and a map, errors and warnings, in the order of the sources.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="map">The map.</param>
    public static IReadOnlyList<Fault> Of(MixPlan plan, DeskMap map)
    {
        var faults = new List<Fault>();
        var taken = new Dictionary<string, Source>(StringComparer.Ordinal);
        foreach (var source in plan.Sources)
        {
            if (map.Fader.Control.ProblemOf(source.Strip) is { } problem)
                faults.Add(new Fault(DeskFault.NoAddress, map.Fader.Place, $"{source.Name}: {problem}", "give the source another strip, or the map another formula"));
            else if (map.Fader.Control.NameOf(source.Strip) is { } name && !taken.TryAdd(name, source) && taken[name].Strip != source.Strip)
                faults.Add(new Fault(DeskFault.OneAddressForTwo, map.Fader.Place, $"strips {taken[name].Strip} and {source.Strip} share the address {name}", "let the strip's number decide the address"));
            if (map.Mute?.Control.ProblemOf(source.Strip) is { } muted)
                faults.Add(new Fault(DeskFault.NoAddress, map.Mute.Place, $"{source.Name}: {muted}", "give the source another strip, or the map another formula"));
        }
        var (law, limits) = (map.Fader.Law, plan.Limits);
        if (law.Highest < limits.Top || law.Lowest > limits.Bottom)
            faults.Add(new Fault(DeskFault.NarrowLaw, map.Fader.Place,
                string.Create(CultureInfo.InvariantCulture, $"the plan's faders run from {limits.Bottom} to {limits.Top}, the desk's law only from {law.Lowest} to {law.Highest}"),
                "let the law reach as far, or narrow the plan's limits", Severity.Warning));
        return faults;
    }
}
