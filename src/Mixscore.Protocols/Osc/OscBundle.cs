using System.Collections.Immutable;

namespace Mixscore.Protocols.Osc;

/// <summary>Packets that belong to one moment. It may hold none.</summary>
public sealed class OscBundle : OscPacket, IEquatable<OscBundle>
{
    /// <summary>A bundle.</summary>
    /// <param name="timeTag">When its messages are due.</param>
    /// <param name="elements">Messages and bundles, in order; copied.</param>
    /// <exception cref="ArgumentException">An enclosed bundle is due before this one (OSC 1.0, "Temporal Semantics and OSC
    /// Time Tags"), or bundles nest deeper than <see cref="OscLimits.DeepestNesting"/>.</exception>
    public OscBundle(OscTimeTag timeTag, params ReadOnlySpan<OscPacket> elements)
    {
        var deepest = 0;
        foreach (var element in elements)
        {
            ArgumentNullException.ThrowIfNull(element, nameof(elements));
            if (element is OscBundle inner && inner.TimeTag < timeTag)
                throw new ArgumentException($"a bundle due at {inner.TimeTag} stands in one due at {timeTag}", nameof(elements));
            deepest = Math.Max(deepest, element.Depth);
        }
        if (deepest >= OscLimits.DeepestNesting)
            throw new ArgumentException($"bundles nest at most {OscLimits.DeepestNesting} deep", nameof(elements));
        Depth = deepest + 1;
        TimeTag = timeTag;
        Elements = [.. elements];
    }

    /// <summary>When the messages are due.</summary>
    public OscTimeTag TimeTag { get; }

    /// <summary>Messages and bundles, in order.</summary>
    public ImmutableArray<OscPacket> Elements { get; }

    /// <inheritdoc/>
    public override int Depth { get; }

    /// <inheritdoc/>
    public bool Equals(OscBundle? other) =>
        other is not null && TimeTag == other.TimeTag && Elements.AsSpan().SequenceEqual(other.Elements.AsSpan());

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as OscBundle);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.Add(TimeTag);
        foreach (var element in Elements) hash.Add(element);
        return hash.ToHashCode();
    }

    /// <summary><c>#bundle</c>, the time tag, and the elements in brackets.</summary>
    public override string ToString() => $"#bundle {TimeTag} [{string.Join("; ", Elements)}]";
}
