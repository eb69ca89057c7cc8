using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A stretch of the score that a plan speaks of.</summary>
/// <param name="From">Where it begins; before the end of the piece.</param>
/// <param name="To">Where it ends, later; <c>null</c> where none is written.</param>
internal readonly record struct Span(Quarters From, Quarters? To)
{
    /// <summary>Finds two positions and reports what is wrong with them.</summary>
    internal static Span? Find(Position from, Position? to, Place place, string spoken, Timeline timeline, FaultList faults)
    {
        var isThere = timeline.TryResolve(from, out var start, out var problem);
        if (!isThere) faults.Add(PlanFault.NotInScore, place, $"{spoken}: {problem}", "write a position that the score has");
        Quarters? end = null;
        if (to is not null)
        {
            if (timeline.TryResolve(to, out var found, out problem)) end = found;
            else faults.Add(PlanFault.NotInScore, place, $"{spoken}: {problem}", "write a position that the score has");
        }
        if (!isThere || (to is not null && end is null)) return null;
        if (start >= timeline.End)
        {
            faults.Add(PlanFault.NoRoom, place, $"{spoken}: nothing comes after the end of the piece", "write where it begins");
            return null;
        }
        if (end <= start)
        {
            faults.Add(PlanFault.NoRoom, place, $"{spoken}: the range ends {(end == start ? "where" : "before")} it begins",
                from.Pass is null && to?.Pass is null ? "write the earlier position first; without a pass the first time through is meant"
                    : "write the earlier position first");
            return null;
        }
        return new Span(start, end);
    }
}
