using System.Net;

namespace Mixscore.Protocols.Transports;

/// <summary>Takes a packet that is well formed by <see cref="Osc.OscCodec.Check"/>. Called on the transport's own thread, one
/// packet at a time for each connection.</summary>
/// <param name="packet">The bytes, good until the call returns.</param>
/// <param name="from">Who sent it; the same object as long as the sender is the same.</param>
public delegate void OscReceived(ReadOnlySpan<byte> packet, IPEndPoint from);
