namespace Mixscore.Planning;

/// <summary>What straight segments between beats must keep, worked out once for each pair of beats.</summary>
internal sealed class KnotSegments(LineBand band)
{
    private readonly LineSweep _sweep = new(band, withCosts: true);
    private readonly Dictionary<(int From, int To), KnotSegment?> _known = [];

    /// <summary>The gains that a ride which obeys from end to end can have on a beat.</summary>
    public ValueRange Possible(int beat) => band.Possible[beat];

    /// <summary>The segment from one beat to another; <c>null</c> where no line keeps all.</summary>
    public KnotSegment? Between(int from, int to)
    {
        if (_known.TryGetValue((from, to), out var known)) return known;
        return _known[(from, to)] = Sweep(from, to);
    }

    private KnotSegment? Sweep(int from, int to)
    {
        _sweep.Begin(from, band.Possible[from]);
        for (var beat = from; beat < to; beat++)
            if (!_sweep.Extend()) return null;
        var upper = _sweep.Lines.UpperEdges;
        var lower = _sweep.Lines.LowerEdges;
        var demands = new KnotDemand[upper.Length + lower.Length];
        for (var i = 0; i < upper.Length; i++) demands[i] = KnotDemand.Of(upper[i], _sweep.Length);
        for (var i = 0; i < lower.Length; i++) demands[upper.Length + i] = KnotDemand.Of(lower[i], _sweep.Length);
        return new KnotSegment(_sweep.Length, _sweep.Moments, demands);
    }
}

/// <summary>A segment between two beats.</summary>
/// <param name="Length">In quarters.</param>
/// <param name="Moments">The samples that it answers for; places counted from its start.</param>
/// <param name="Demands">What its gains must keep.</param>
internal sealed record KnotSegment(double Length, Moments Moments, KnotDemand[] Demands);

/// <summary>a·u + b·v ≤ c for the gains u and v at a segment's ends; the greater of a and b is 1 or −1.</summary>
internal readonly record struct KnotDemand(double A, double B, double C)
{
    public static KnotDemand Of(in LineEdge edge, double length)
    {
        var (a, b) = (edge.P - edge.R / length, edge.R / length);
        var size = Math.Max(Math.Abs(a), Math.Abs(b));
        return new KnotDemand(a / size, b / size, edge.C / size);
    }
}
