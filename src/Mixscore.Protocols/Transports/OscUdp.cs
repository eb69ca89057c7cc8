using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// OSC in datagrams. Malformed ones are counted and dropped. Sending and receiving take no memory as long as those at the
/// other end stay the same. Safe for several threads.
/// </summary>
public sealed class OscUdp : IDisposable
{
    private readonly Socket _socket;
    private readonly OscReceived _received;
    private readonly OscLimits? _limits;
    private readonly Thread _thread;
    private (IPEndPoint End, SocketAddress Address)? _target;
    private long _count;
    private long _unsent;
    private volatile bool _stopped;

    /// <summary>Binds and begins to receive.</summary>
    /// <param name="local">Where; port 0 is any free one.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    /// <exception cref="IOException">The address or port is not available.</exception>
    public OscUdp(IPEndPoint local, OscReceived received, OscLimits? limits = null)
    {
        (_received, _limits) = (received, limits);
        _socket = Sockets.Udp(local);
        Local = (IPEndPoint)_socket.LocalEndPoint!;
        _thread = Sockets.Listen($"OSC {Local}", Loop);
    }

    /// <summary>Where it is bound.</summary>
    public IPEndPoint Local { get; }

    /// <summary>What was wrong with packets that were dropped.</summary>
    public FaultCounts<OscFault> Faults { get; } = new();

    /// <summary>Well-formed packets so far.</summary>
    public long Received => Volatile.Read(ref _count);

    /// <summary>Packets that could not be sent.</summary>
    public long Unsent => Volatile.Read(ref _unsent);

    /// <summary>Sends a packet.</summary>
    /// <returns>False when the system refused it; that is counted in <see cref="Unsent"/>.</returns>
    public bool Send(ReadOnlySpan<byte> packet, IPEndPoint to)
    {
        var target = _target;
        if (target is not { } known || !ReferenceEquals(known.End, to)) _target = target = (to, to.Serialize());
        try
        {
            if (!_stopped) return _socket.SendTo(packet, SocketFlags.None, target.Value.Address) == packet.Length;
        }
        catch (Exception problem) when (problem is SocketException or ObjectDisposedException)
        {
        }
        Interlocked.Increment(ref _unsent);
        return false;
    }

    /// <summary>Stops receiving and closes the socket.</summary>
    public void Dispose()
    {
        _stopped = true;
        _socket.Dispose();
        Sockets.WaitFor(_thread);
    }

    private void Loop()
    {
        var buffer = new byte[65536];
        var address = new SocketAddress(_socket.AddressFamily);
        var last = new SocketAddress(_socket.AddressFamily);
        var from = Local;
        while (!_stopped)
        {
            int length;
            try
            {
                length = _socket.ReceiveFrom(buffer, SocketFlags.None, address);
            }
            catch (ObjectDisposedException)
            {
                return;
            }
            catch (SocketException)
            {
                // A datagram that we sent met a closed port, or the socket was closed under us.
                continue;
            }
            if (_stopped) return;
            var packet = buffer.AsSpan(0, length);
            var problem = OscCodec.Check(packet, _limits);
            Faults.Count(problem.Fault);
            if (!problem.IsNone) continue;
            if (!address.Equals(last))
            {
                from = (IPEndPoint)Local.Create(address);
                address.Buffer.CopyTo(last.Buffer);
                last.Size = address.Size;
            }
            Interlocked.Increment(ref _count);
            _received(packet, from);
        }
    }
}
