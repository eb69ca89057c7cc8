namespace Mixscore.Protocols.Transports;

/// <summary>How packets are told apart in a stream.</summary>
public enum OscFraming
{
    /// <summary>An int32 length before each (OSC 1.0).</summary>
    Length,

    /// <summary>SLIP with END at both ends (OSC 1.1).</summary>
    Slip,
}
