using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>Compares a ride with what a fader does that holds each value until the next.</summary>
internal static class MoveErrors
{
    /// <summary>The greatest distance between ride and fader at any instant up to the ride's end; exact, since a ride is monotone between vertices.</summary>
    public static Decibels Worst(WireRide ride, FaderLaw law, IReadOnlyList<DeskMove> moves)
    {
        var worst = 0.0;
        var segment = -1;   // before the first vertex
        for (var i = 0; i < moves.Count; i++)
        {
            var held = HeldAs(ride, law, moves[i]);
            var from = moves[i].At.Value;
            var to = i + 1 < moves.Count ? moves[i + 1].At.Value : Math.Max(from, ride.VertexTimes[^1]);
            while (segment + 1 < ride.VertexTimes.Count && ride.VertexTimes[segment + 1] <= from) segment++;
            for (var s = segment; ; s++)
            {
                var (start, end) = Span(ride, s, from, to);
                worst = Math.Max(worst, Math.Max(Math.Abs(held - start), Math.Abs(held - end)));
                if (s + 1 >= ride.VertexTimes.Count || ride.VertexTimes[s + 1] >= to) break;
            }
        }
        return Decibels.Of(worst);
    }

    /// <summary>What a value counts as: its gain, or for off the bottom.</summary>
    public static double HeldAs(WireRide ride, FaderLaw law, DeskMove move) =>
        Math.Max(move.Gain?.Value ?? ride.Floor, Math.Max(ride.Floor, law.Lowest.Value));

    /// <summary>The gains between which a ride moves inside one of its segments, over an interval that touches it.</summary>
    private static (double Start, double End) Span(WireRide ride, int segment, double from, double to)
    {
        if (segment < 0) return (ride.GainAt(0), ride.GainAt(0));
        if (segment + 1 >= ride.VertexTimes.Count) return (ride.GainAt(ride.VertexTimes[^1]), ride.GainAt(ride.VertexTimes[^1]));
        var (start, end) = ride.EndsOf(segment);
        return (from <= ride.VertexTimes[segment] ? start : ride.GainAt(from), to >= ride.VertexTimes[segment + 1] ? end : ride.GainAt(to));
    }
}
