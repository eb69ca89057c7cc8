namespace Mixscore.Loudness;

/// <summary>The weights G of the channels, equal when every weight is equal.</summary>
internal sealed class ChannelWeights : IEquatable<ChannelWeights>
{
    /// <summary>Left, right and centre. ITU-R BS.1770-5, Annex 1, Table 3.</summary>
    private const double Front = 1.0;

    /// <summary>Left and right surround, about +1.5 dB. ITU-R BS.1770-5, Annex 1, Table 3.</summary>
    private const double Surround = 1.41;

    /// <summary>The low-frequency effects channel is left out. ITU-R BS.1770-5, Annex 1; EBU Tech 3341, 2.10.</summary>
    private const double LowFrequencyEffects = 0;

    private static readonly ChannelWeights[] Layouts =
    [
        new([Front]),
        new([Front, Front]),
        new([Front, Front, Front]),
        new([Front, Front, Surround, Surround]),
        new([Front, Front, Front, Surround, Surround]),
        new([Front, Front, Front, LowFrequencyEffects, Surround, Surround]),
    ];

    private readonly double[] _weights;

    private ChannelWeights(double[] weights) => _weights = weights;

    public static ChannelWeights Mono => Layouts[0];

    public int Count => _weights.Length;

    public double this[int channel]
    {
        get
        {
            ArgumentOutOfRangeException.ThrowIfNegative(channel);
            ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(channel, Count);
            return _weights[channel];
        }
    }

    public static ChannelWeights OfLayout(int channels)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(channels, 1);
        ArgumentOutOfRangeException.ThrowIfGreaterThan(channels, Layouts.Length);
        return Layouts[channels - 1];
    }

    public static ChannelWeights Of(ReadOnlySpan<double> weights)
    {
        ArgumentOutOfRangeException.ThrowIfLessThan(weights.Length, 1, nameof(weights));
        ArgumentOutOfRangeException.ThrowIfGreaterThan(weights.Length, 24, nameof(weights));
        foreach (var weight in weights)
            if (!(weight is >= 0 and <= 4))
                throw new ArgumentOutOfRangeException(nameof(weights), weight, "A channel weight lies from 0 to 4.");
        return new(weights.ToArray());
    }

    public bool Equals(ChannelWeights? other) => other is not null && _weights.AsSpan().SequenceEqual(other._weights);

    public override bool Equals(object? obj) => Equals(obj as ChannelWeights);

    public override int GetHashCode()
    {
        var hash = new HashCode();
        foreach (var weight in _weights) hash.Add(weight);
        return hash.ToHashCode();
    }
}
