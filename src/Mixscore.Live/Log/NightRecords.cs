using Mixscore.Planning;

namespace Mixscore.Live;

/// <summary>A log as a record of its night, laid on a plan.</summary>
public static class NightRecords
{
    /// <summary>Reads what a log holds of its night. Sources of which neither the log nor <paramref name="otherwise"/> holds a ride are left out, and said.</summary>
    /// <param name="night">The log.</param>
    /// <param name="onScore">The plan as it is now, for where positions lie.</param>
    /// <param name="otherwise">The plan's rides as they are now, by source, for what the log holds none of.</param>
    public static NightRecord Of(Night night, PlanOnScore onScore, IReadOnlyDictionary<string, Ride> otherwise)
    {
        var played = night.Lines.Where(line => line.Kind is LogKind.Begin or LogKind.Resume).Select(head => NightRides.Read(head, onScore.Timeline, onScore.Plan.Limits.Bottom)).LastOrDefault(found => found.Count > 0);
        Ride? RideOf(Source source) => played?.GetValueOrDefault(source.Name) ?? otherwise.GetValueOrDefault(source.Name);
        var known = onScore.Plan.Sources.Select(source => (Source: source, Ride: RideOf(source))).ToArray();
        var plan = new LivePlan(onScore.Timeline, onScore.Plan.Limits, [.. known.Where(one => one.Ride is not null).Select(one => new LiveSource(one.Source, one.Ride!))]);
        var hands = NightHands.Of(night, plan, out var notes);
        var unknown = known.Where(one => one.Ride is null).Select(one => one.Source.Name).ToArray();
        var figures = NightStory.Figures(night);
        return new NightRecord
        {
            Name = Path.GetFileName(night.Path),
            Hands = hands,
            Clock = night.Head?.Clock ?? "",
            Desks = night.Head?.Desks ?? [],
            Events = NightEvents.Of(night, onScore.Timeline),
            Story = NightStory.ByBar(night),
            Taken = figures.Hands,
            ClockHeld = figures.ClockHeld,
            Notes = unknown.Length == 0 ? notes : [.. notes, $"{string.Join(", ", unknown)}: the log holds no ride of it, and there is none in out/rides.json; left out"],
        };
    }
}
