using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>
/// The fader gain of one source over the piece: straight in dB over quarters between its vertices. A segment with one
/// end off runs to the bottom of the fader's range and is off at that vertex; between two off vertices it is off.
/// </summary>
public sealed class Ride
{
    private readonly double[] _at;
    private readonly Vertex[] _vertices;

    /// <summary>A ride through vertices.</summary>
    /// <param name="source">The source's name.</param>
    /// <param name="vertices">At least two, ascending, the first at the start and the last at the end of the piece.</param>
    /// <param name="bottom">The bottom of the fader's range.</param>
    /// <exception cref="ArgumentException">The vertices are not so.</exception>
    public Ride(string source, IReadOnlyList<Vertex> vertices, Decibels bottom)
    {
        if (vertices.Count < 2) throw new ArgumentException("a ride has at least two vertices", nameof(vertices));
        for (var i = 1; i < vertices.Count; i++)
            if (vertices[i].At <= vertices[i - 1].At) throw new ArgumentException($"vertices must ascend, at {vertices[i].At} quarters", nameof(vertices));
        (Source, _vertices, Bottom) = (source, [.. vertices], bottom);
        _at = [.. vertices.Select(vertex => vertex.At.ToDouble())];
    }

    /// <summary>The source's name.</summary>
    public string Source { get; }

    /// <summary>The corners, in order.</summary>
    public IReadOnlyList<Vertex> Vertices => _vertices;

    /// <summary>The bottom of the fader's range, where a segment that ends off runs to.</summary>
    public Decibels Bottom { get; }

    /// <summary>The gain at a place; <c>null</c> where the fader is off. Before the first vertex the first holds, after the last the last.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    public Decibels? At(double quarters)
    {
        var found = Array.BinarySearch(_at, quarters);
        if (found >= 0) return _vertices[found].Gain;
        var next = ~found;
        if (next == 0) return _vertices[0].Gain;
        if (next == _at.Length) return _vertices[^1].Gain;
        var (from, to) = (_vertices[next - 1].Gain, _vertices[next].Gain);
        if (from is null && to is null) return null;
        var (start, end) = (from ?? Bottom, to ?? Bottom);
        var part = (quarters - _at[next - 1]) / (_at[next] - _at[next - 1]);
        return start + (end - start) * part;
    }
}
