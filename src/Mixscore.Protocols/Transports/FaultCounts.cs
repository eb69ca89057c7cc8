namespace Mixscore.Protocols.Transports;

/// <summary>How often each fault has come from a stranger. Safe for several threads; counting takes no memory.</summary>
/// <typeparam name="TFault">The faults of a protocol; its default value is no fault.</typeparam>
public sealed class FaultCounts<TFault> where TFault : struct, Enum
{
    private static readonly TFault[] Names = Enum.GetValues<TFault>();
    private readonly long[] _counts = new long[Names.Length];

    /// <summary>All faults together.</summary>
    public long Total
    {
        get
        {
            var total = 0L;
            for (var i = 0; i < _counts.Length; i++) total += Volatile.Read(ref _counts[i]);
            return total;
        }
    }

    /// <summary>How often one came.</summary>
    public long Of(TFault fault) => Volatile.Read(ref _counts[Array.IndexOf(Names, fault)]);

    /// <summary>Each fault that came, with its count, in the order of the enumeration; empty when none did.</summary>
    public IReadOnlyList<(TFault Fault, long Count)> Named() =>
        [.. Names.Select(fault => (fault, Of(fault))).Where(pair => pair.Item2 > 0)];

    /// <summary>Such as <c>Truncated 2, Padding 1</c>; empty when none came.</summary>
    public override string ToString() => string.Join(", ", Named().Select(pair => $"{pair.Fault} {pair.Count}"));

    internal void Count(TFault fault)
    {
        if (!EqualityComparer<TFault>.Default.Equals(fault, default)) Interlocked.Increment(ref _counts[Array.IndexOf(Names, fault)]);
    }
}
