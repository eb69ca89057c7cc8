namespace Mixscore.Planning;

/// <summary>A source that is fitted, as those that lean on it hear it.</summary>
internal sealed class HeardSource(SourceToFit source, ScoreTrace trace, Ride ride, HeardTogether others)
{
    private readonly double[] _at = [.. ride.Vertices.Select(vertex => vertex.At.ToDouble())];
    private readonly double?[] _gains = [.. ride.Vertices.Select(vertex => vertex.Gain?.Value)];

    /// <summary>
    /// How loud it is heard at a place, in LU over the reference: what its stem holds, through its ride. Where it rests, and
    /// where its fader is on the way out of off or into it, what its marks ask for: who leans on it need not chase that.
    /// <c>null</c> where it is off.
    /// </summary>
    public double? At(double quarters)
    {
        var segment = source.Levels.SegmentAt(quarters);
        if (AskedLevel.At(source.Levels, segment, quarters, others) is not { } asked) return null;
        return trace.At(quarters) is { } loudness && GainAt(quarters) is { } gain ? loudness + gain : asked;
    }

    /// <summary>The ride's gain; <c>null</c> where it is off or has an end that is.</summary>
    private double? GainAt(double quarters)
    {
        var next = Array.BinarySearch(_at, quarters) is var found && found >= 0 ? found : ~found;
        if (found >= 0) return _gains[found];
        if (next == 0 || next == _at.Length || _gains[next - 1] is not { } from || _gains[next] is not { } to) return null;
        return from + (to - from) * ((quarters - _at[next - 1]) / (_at[next] - _at[next - 1]));
    }
}

/// <summary>How loud sources are heard together at a place, in LU over the reference; <c>null</c> for not at all.</summary>
internal delegate double? HeardTogether(IReadOnlyList<string> sources, double quarters);
