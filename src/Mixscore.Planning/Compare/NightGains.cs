namespace Mixscore.Planning;

/// <summary>Where one source's fader was wanted in a night: by a hand, by the plan with an offset, or by the plan.</summary>
public sealed class NightGains
{
    private readonly NightSource _source;
    private readonly double[] _starts;
    private readonly double _bottom, _top;

    /// <summary>Of a source in a night.</summary>
    /// <param name="source">The source.</param>
    /// <param name="limits">What a fader may do.</param>
    public NightGains(NightSource source, Limits limits)
    {
        (_source, _bottom, _top) = (source, limits.Bottom.Value, limits.Top.Value);
        _starts = [.. source.Stretches.Select(stretch => stretch.From)];
    }

    /// <summary>What stood on it; <c>null</c> where that was the plan alone.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    public HandStretch? StretchAt(double quarters)
    {
        var found = Array.BinarySearch(_starts, quarters);
        var at = found >= 0 ? found : ~found - 1;
        return at >= 0 && _source.Stretches[at] is var stretch && quarters < stretch.To ? stretch : null;
    }

    /// <summary>The plan's gain then, in dB; <c>null</c> for off.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    public double? PlannedAt(double quarters) => _source.Ride.At(quarters)?.Value;

    /// <summary>The gain, in dB; <c>null</c> for off. Where the feed was gone or all were held it is the plan's: neither was a wish for this source.</summary>
    /// <param name="quarters">From the start of the piece.</param>
    public double? At(double quarters)
    {
        var planned = PlannedAt(quarters);
        return StretchAt(quarters) switch
        {
            { Kind: HandKind.Hand } hand => hand.Gain is { } gain && gain.Value > _bottom ? Math.Min(gain.Value, _top) : null,
            { Kind: HandKind.Offset } offset when planned is { } under => Math.Clamp(under + offset.Gain!.Value.Value, _bottom, _top),
            _ => planned,
        };
    }
}
