namespace Mixscore.Protocols.Osc;

/// <summary>How much a reader takes from a stranger; checked before memory is taken.</summary>
public sealed record OscLimits
{
    /// <summary>The deepest nesting of bundles, or of arrays, that can be made or read at all.</summary>
    public const int DeepestNesting = 16;

    private readonly int _depth = 8;

    /// <summary>A packet of a datagram, 8 levels, 4096 elements, 1024 arguments. Our own choice.</summary>
    public static OscLimits Default { get; } = new();

    /// <summary>Longest packet in bytes; 65,536 unless set.</summary>
    public int Bytes { get; init; } = 65536;

    /// <summary>Deepest nesting of bundles, and of arrays in a message; 8 unless set.</summary>
    /// <exception cref="ArgumentOutOfRangeException">Not from 1 to <see cref="DeepestNesting"/>.</exception>
    public int Depth
    {
        get => _depth;
        init
        {
            ArgumentOutOfRangeException.ThrowIfLessThan(value, 1);
            ArgumentOutOfRangeException.ThrowIfGreaterThan(value, DeepestNesting);
            _depth = value;
        }
    }

    /// <summary>Most elements in a packet, over all its bundles; 4096 unless set.</summary>
    public int Elements { get; init; } = 4096;

    /// <summary>Most type tags in a message, brackets counted; 1024 unless set.</summary>
    public int Arguments { get; init; } = 1024;
}
