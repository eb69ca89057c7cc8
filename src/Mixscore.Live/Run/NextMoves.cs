using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>A move of a ride that is still to come.</summary>
/// <param name="Source">Whose, from 0.</param>
/// <param name="From">Where it begins, in quarters.</param>
/// <param name="To">Where it ends, in quarters.</param>
/// <param name="Goal">Where it goes; <c>null</c> is off.</param>
/// <param name="Size">How far, in dB; off counts as the bottom.</param>
public readonly record struct NextMove(int Source, Quarters From, Quarters To, Loudness.Decibels? Goal, double Size);

/// <summary>What comes next: the coming moves of all rides in order, the biggest first where they begin together.</summary>
public static class NextMoves
{
    /// <summary>The coming moves.</summary>
    /// <param name="plan">The plan.</param>
    /// <param name="at">Where the piece is.</param>
    /// <param name="most">How many.</param>
    public static IReadOnlyList<NextMove> From(LivePlan plan, Seconds at, int most)
    {
        var quarters = plan.Timeline.Tempo.QuartersAt(at);
        var moves = new List<NextMove>();
        for (var i = 0; i < plan.Sources.Count; i++)
        {
            var vertices = plan.Sources[i].Ride.Vertices;
            var bottom = plan.Sources[i].Ride.Bottom.Value;
            var found = 0;
            for (var v = 0; v + 1 < vertices.Count && found < most; v++)
            {
                if (vertices[v].At.ToDouble() < quarters || vertices[v].Gain == vertices[v + 1].Gain) continue;
                moves.Add(new NextMove(i, vertices[v].At, vertices[v + 1].At, vertices[v + 1].Gain, Math.Abs((vertices[v + 1].Gain?.Value ?? bottom) - (vertices[v].Gain?.Value ?? bottom))));
                found++;
            }
        }
        return [.. moves.OrderBy(move => move.From).ThenByDescending(move => move.Size).Take(most)];
    }

    /// <summary>The next three in words: <c>in 5 beats north.horn to -6.0 dB over 8</c>.</summary>
    public static string Of(LivePlan plan, Seconds at)
    {
        var now = plan.Timeline.Tempo.QuartersAt(at);
        return string.Join("; ", From(plan, at, 3).Select(move =>
        {
            var beat = plan.Timeline.BarAt(move.From).Meter.Unit.ToDouble();
            return string.Create(CultureInfo.InvariantCulture, $"in {Math.Ceiling(((move.From.ToDouble() - now) / beat) - 1e-6):0} beats {plan.Sources[move.Source].Source.Name} {(move.Goal is { } goal ? $"to {goal}" : "off")} over {(move.To - move.From).ToDouble() / beat:0.#}");
        }));
    }
}
