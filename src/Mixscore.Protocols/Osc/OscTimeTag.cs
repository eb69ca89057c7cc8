using System.Globalization;

namespace Mixscore.Protocols.Osc;

/// <summary>
/// A moment on the wire: 32 bits of seconds and 32 bits of fraction (OSC 1.0, "Atomic Data Types", the NTP format).
/// As a date it counts from 1900-01-01 00:00 UTC; in automation files it counts from the start of the piece.
/// The default value is second zero.
/// </summary>
/// <param name="Value">The 64 bits as sent, seconds in the high half.</param>
public readonly record struct OscTimeTag(ulong Value) : IComparable<OscTimeTag>
{
    private const double Unit = 4294967296.0;

    // 1900-01-01 00:00 UTC, and the moment at which 32 bits of seconds begin again (RFC 4330, section 3).
    private static readonly DateTimeOffset FirstEra = new(1900, 1, 1, 0, 0, 0, TimeSpan.Zero);
    private static readonly DateTimeOffset SecondEra = FirstEra.AddSeconds(Unit);
    private static readonly DateTimeOffset Earliest = FirstEra.AddSeconds(Unit / 2);
    private static readonly DateTimeOffset End = SecondEra.AddSeconds(Unit / 2);

    /// <summary>63 zero bits and a one: "immediately" (OSC 1.0, "Temporal Semantics and OSC Time Tags").</summary>
    public static OscTimeTag Immediate => new(1);

    /// <summary>True for <see cref="Immediate"/>.</summary>
    public bool IsImmediate => Value == 1;

    /// <summary>The tag of a date, to the 100 ns that a date holds.</summary>
    /// <param name="moment">From 1968-01-20 03:14:08 UTC to before 2104-02-26 09:42:24 UTC. Dates from 2036-02-07 on take
    /// the second era, whose seconds have a top bit of zero (RFC 4330, section 3).</param>
    /// <exception cref="ArgumentOutOfRangeException">The date lies outside that range.</exception>
    public static OscTimeTag FromUtc(DateTimeOffset moment)
    {
        if (moment < Earliest || moment >= End)
            throw new ArgumentOutOfRangeException(nameof(moment), moment, $"a time tag holds {Earliest:u} to {End:u}");
        var ticks = (moment - (moment < SecondEra ? FirstEra : SecondEra)).Ticks;
        var (seconds, rest) = Math.DivRem(ticks, TimeSpan.TicksPerSecond);
        var fraction = (((ulong)rest << 32) + (TimeSpan.TicksPerSecond / 2)) / TimeSpan.TicksPerSecond;
        return new OscTimeTag(((ulong)seconds << 32) | fraction);
    }

    /// <summary>The tag of a span from second zero, to the nearest 2⁻³² s.</summary>
    /// <param name="seconds">From 0 to below 2³² s.</param>
    /// <exception cref="ArgumentOutOfRangeException">The span is negative, too long or not a number.</exception>
    public static OscTimeTag FromSeconds(double seconds)
    {
        if (!(seconds >= 0 && seconds < Unit))
            throw new ArgumentOutOfRangeException(nameof(seconds), seconds, "a time tag holds 0 to 2^32 seconds");
        var whole = Math.Floor(seconds);
        var fraction = (ulong)Math.Round((seconds - whole) * Unit);
        return new OscTimeTag(((ulong)whole << 32) + fraction);
    }

    /// <summary>Seconds from second zero; exact below 2²¹ s, the nearest double beyond.</summary>
    public double ToSeconds() => (Value >> 32) + ((uint)Value / Unit);

    /// <summary>The date, to the nearest 100 ns. A tag whose top bit is zero lies in the era that begins 2036-02-07.</summary>
    public DateTimeOffset ToUtc()
    {
        var era = Value >> 63 == 1 ? FirstEra : SecondEra;
        var ticks = (((ulong)(uint)Value * TimeSpan.TicksPerSecond) + (1UL << 31)) >> 32;
        return era.AddTicks(((long)(Value >> 32) * TimeSpan.TicksPerSecond) + (long)ticks);
    }

    /// <summary>Orders by the 64 bits, so <see cref="Immediate"/> comes before any later moment.</summary>
    public int CompareTo(OscTimeTag other) => Value.CompareTo(other.Value);

    /// <summary>"immediately", or seconds and fraction in hexadecimal: <c>bf454880.80000000</c>.</summary>
    public override string ToString() => IsImmediate
        ? "immediately"
        : string.Create(CultureInfo.InvariantCulture, $"{Value >> 32:x8}.{(uint)Value:x8}");

    /// <summary>Earlier on the wire.</summary>
    public static bool operator <(OscTimeTag left, OscTimeTag right) => left.Value < right.Value;

    /// <summary>Later on the wire.</summary>
    public static bool operator >(OscTimeTag left, OscTimeTag right) => left.Value > right.Value;

    /// <summary>Earlier on the wire, or the same.</summary>
    public static bool operator <=(OscTimeTag left, OscTimeTag right) => left.Value <= right.Value;

    /// <summary>Later on the wire, or the same.</summary>
    public static bool operator >=(OscTimeTag left, OscTimeTag right) => left.Value >= right.Value;
}
