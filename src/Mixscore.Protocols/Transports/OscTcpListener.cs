using System.Collections.Immutable;
using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Transports;

/// <summary>Waits for OSC connections and keeps those that came. Safe for several threads.</summary>
public sealed class OscTcpListener : IDisposable
{
    // Strangers may connect; more than these are closed at once.
    private const int MostConnections = 32;
    private readonly Socket _socket;
    private readonly OscFraming _framing;
    private readonly OscReceived _received;
    private readonly OscLimits? _limits;
    private readonly Thread _thread;
    private ImmutableList<OscTcpConnection> _connections = [];
    private volatile bool _stopped;

    /// <summary>Binds and begins to wait.</summary>
    /// <param name="local">Where; port 0 is any free one.</param>
    /// <param name="framing">How packets are told apart, on every connection.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    /// <exception cref="IOException">The address or port is not available.</exception>
    public OscTcpListener(IPEndPoint local, OscFraming framing, OscReceived received, OscLimits? limits = null)
    {
        (_framing, _received, _limits) = (framing, received, limits);
        _socket = Sockets.TcpListener(local);
        Local = (IPEndPoint)_socket.LocalEndPoint!;
        _thread = Sockets.Listen($"OSC listener {Local}", Loop);
    }

    /// <summary>Where it is bound.</summary>
    public IPEndPoint Local { get; }

    /// <summary>What was wrong with packets that were dropped, over all connections.</summary>
    public FaultCounts<OscFault> Faults { get; } = new();

    /// <summary>The connections that are open.</summary>
    public IReadOnlyList<OscTcpConnection> Connections => _connections;

    /// <summary>Sends a packet to everyone connected.</summary>
    /// <returns>How many it went to.</returns>
    public int Send(ReadOnlySpan<byte> packet)
    {
        var count = 0;
        foreach (var connection in _connections)
            if (connection.Send(packet)) count++;
        return count;
    }

    /// <summary>Closes every connection and the port.</summary>
    public void Dispose()
    {
        _stopped = true;
        _socket.Dispose();
        Sockets.WaitFor(_thread);
        foreach (var connection in _connections) connection.Dispose();
    }

    private void Loop()
    {
        while (!_stopped)
        {
            try
            {
                var socket = _socket.Accept();
                if (_stopped || _connections.Count >= MostConnections) socket.Dispose();
                else Add(socket);
            }
            catch (ObjectDisposedException)
            {
                return;
            }
            catch (SocketException)
            {
                // Whoever wanted to connect has gone; the next one may come.
            }
        }
    }

    private void Add(Socket socket)
    {
        var connection = new OscTcpConnection(socket, _framing, _received, _limits, Faults,
            gone => ImmutableInterlocked.Update(ref _connections, list => list.Remove(gone)));
        ImmutableInterlocked.Update(ref _connections, list => list.Add(connection));
        if (!connection.IsOpen) ImmutableInterlocked.Update(ref _connections, list => list.Remove(connection));
    }
}
