using System.Collections.Immutable;

namespace Mixscore.Protocols.Osc;

/// <summary>An address, which may be a pattern, and its arguments.</summary>
public sealed class OscMessage : OscPacket, IEquatable<OscMessage>
{
    /// <summary>A message.</summary>
    /// <param name="address">Begins with <c>/</c>; may hold the pattern signs of OSC 1.0.</param>
    /// <param name="arguments">In order; copied.</param>
    /// <exception cref="ArgumentException">The address is not one, by <see cref="OscPattern.IsValid(ReadOnlySpan{char})"/>.
    /// </exception>
    public OscMessage(string address, params ReadOnlySpan<OscArgument> arguments)
    {
        ArgumentNullException.ThrowIfNull(address);
        if (!OscPattern.IsValid(address))
            throw new ArgumentException($"\"{address}\" is not an address; write one such as \"/strip/1/fader\"", nameof(address));
        Address = address;
        Arguments = [.. arguments];
    }

    /// <summary>The address or pattern.</summary>
    public string Address { get; }

    /// <summary>The arguments, arrays as one each.</summary>
    public ImmutableArray<OscArgument> Arguments { get; }

    /// <inheritdoc/>
    public override int Depth => 0;

    /// <inheritdoc/>
    public bool Equals(OscMessage? other) =>
        other is not null && Address == other.Address && Arguments.AsSpan().SequenceEqual(other.Arguments.AsSpan());

    /// <inheritdoc/>
    public override bool Equals(object? obj) => Equals(obj as OscMessage);

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = new HashCode();
        hash.Add(Address, StringComparer.Ordinal);
        foreach (var argument in Arguments) hash.Add(argument);
        return hash.ToHashCode();
    }

    /// <summary>The readable form, as in <see cref="OscText"/>.</summary>
    public override string ToString() => OscText.Format(this);
}
