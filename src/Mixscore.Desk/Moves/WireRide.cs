using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>One ride as it is due on the wire: later by the link's delay, and cut to what the fader's law can say.</summary>
internal sealed class WireRide
{
    private readonly TempoMap _tempo;
    private readonly double _delay;
    private readonly FaderLaw _law;
    private readonly double[] _at;   // vertices, seconds on the wire

    public WireRide(Ride ride, TempoMap tempo, Seconds delay, FaderLaw law)
    {
        (Ride, _tempo, _delay, _law) = (ride, tempo, delay.Value, law);
        _at = [.. ride.Vertices.Select(vertex => tempo.SecondsAt(vertex.At).Value + _delay)];
        Floor = Math.Max(ride.Bottom.Value, law.Lowest.Value);
    }

    public Ride Ride { get; }

    /// <summary>What off counts as when errors are measured: the bottom of the fader or of the law, whichever is higher.</summary>
    public double Floor { get; }

    /// <summary>When the vertices are due.</summary>
    public IReadOnlyList<double> VertexTimes => _at;

    /// <summary>Gain in dB at an instant as the law can say it from below: <see cref="Floor"/> where off or lower.</summary>
    public double GainAt(double seconds) => Floored(Ride.At(_tempo.QuartersAt(new Seconds(seconds - _delay)))?.Value);

    /// <summary>The gain of a segment just after its first vertex, or just before its last, in dB.</summary>
    public (double Start, double End) EndsOf(int segment)
    {
        var (from, to) = (Ride.Vertices[segment].Gain, Ride.Vertices[segment + 1].Gain);
        if (from is null && to is null) return (Floor, Floor);
        return (Floored(from?.Value), Floored(to?.Value));
    }

    /// <summary>The open stretch of a segment, or <c>null</c> where all of it is off.</summary>
    public Leg? LegOf(int segment)
    {
        var (first, last) = (Ride.Vertices[segment], Ride.Vertices[segment + 1]);
        if (first.Gain is null && last.Gain is null) return null;
        var (start, end) = ((first.Gain ?? Ride.Bottom).Value, (last.Gain ?? Ride.Bottom).Value);
        var (lowest, highest) = (_law.Lowest.Value, _law.Highest.Value);
        if ((start < lowest && end < lowest) || (start > highest && end > highest)) return null;
        var (from, to) = (_at[segment], _at[segment + 1]);
        var (opens, closes) = (first.Gain is null || start < lowest, last.Gain is null || end < lowest);
        if (start < lowest || start > highest) from = TimeOf(segment, start < lowest ? lowest : highest);
        if (end < lowest || end > highest) to = TimeOf(segment, end < lowest ? lowest : highest);
        return new Leg(from, to, Math.Clamp(start, lowest, highest), Math.Clamp(end, lowest, highest), opens, closes);
    }

    /// <summary>When a segment passes a gain between those of its ends, in seconds on the wire.</summary>
    public double TimeOf(int segment, double gain)
    {
        var (first, last) = (Ride.Vertices[segment], Ride.Vertices[segment + 1]);
        var (start, end) = ((first.Gain ?? Ride.Bottom).Value, (last.Gain ?? Ride.Bottom).Value);
        var (from, to) = (first.At.ToDouble(), last.At.ToDouble());
        return _tempo.SecondsAt(from + (to - from) * Math.Clamp((gain - start) / (end - start), 0, 1)).Value + _delay;
    }

    private double Floored(double? gain) => Math.Max(gain ?? Floor, Floor);
}
