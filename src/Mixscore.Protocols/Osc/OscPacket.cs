namespace Mixscore.Protocols.Osc;

/// <summary>What one datagram or one frame of a stream carries: a message or a bundle. Immutable, equal by content.</summary>
public abstract class OscPacket
{
    private protected OscPacket()
    {
    }

    /// <summary>How deep bundles are nested: 0 for a message, 1 for a bundle of messages.</summary>
    public abstract int Depth { get; }
}
