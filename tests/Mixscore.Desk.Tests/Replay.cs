using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk.Tests;

/// <summary>A fader that holds each value until the next, compared with a ride by brute force.</summary>
internal static class Replay
{
    /// <summary>
    /// The greatest distance in dB, at instants of a fine grid and around every vertex and message; off against off is 0,
    /// off against a gain counts from the bottom, and off where the ride is not (or the other way round) is reported apart.
    /// </summary>
    public static (double Worst, string? WrongOff) Compare(
        Ride ride, TempoMap tempo, double delay, IReadOnlyList<(double At, double? Gain)> messages, double slack)
    {
        var vertices = ride.Vertices.Select(v => tempo.SecondsAt(v.At).Value + delay).ToList();
        var last = vertices[^1] + 0.5;
        var instants = new SortedSet<double>();
        for (var t = 0.0; t < last; t += 0.0037) instants.Add(t);
        foreach (var t in vertices.Concat(messages.Select(m => m.At)))
            foreach (var shift in (double[])[-2e-6, 0, 2e-6, -slack * 1.01, slack * 1.01]) instants.Add(Math.Max(0, t + shift));

        var worst = 0.0;
        string? wrongOff = null;
        var next = 0;
        double? held = null;
        foreach (var t in instants)
        {
            while (next < messages.Count && messages[next].At <= t) held = messages[next++].Gain;
            var wanted = ride.At(tempo.QuartersAt(new Seconds(t - delay)))?.Value;
            if (held is null != wanted is null && !vertices.Any(v => Math.Abs(v - t) <= slack))
                wrongOff ??= $"at {t:0.000000} s the ride is {wanted?.ToString() ?? "off"} and the fader {held?.ToString() ?? "off"}";
            worst = Math.Max(worst, Math.Abs((held ?? ride.Bottom.Value) - (wanted ?? ride.Bottom.Value)));
        }
        return (worst, wrongOff);
    }

    public static IReadOnlyList<(double At, double? Gain)> Of(DeskMoves moves, string source) =>
        [.. moves.Moves.Where(move => move.Source.Name == source).Select(move => (move.At.Value, moves.Map.Fader.Law.ToGain(move.Value)?.Value))];

}
