using System.Net;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Transports;

/// <summary>An OSC connection that is made again when the other end goes away and comes back. Safe for several threads.</summary>
public sealed class OscTcpClient : IDisposable
{
    /// <summary>How long to wait between two tries; our own choice.</summary>
    private static readonly TimeSpan Pause = TimeSpan.FromMilliseconds(250);

    private readonly IPEndPoint _remote;
    private readonly OscFraming _framing;
    private readonly OscReceived _received;
    private readonly TimeSpan _patience;
    private readonly OscLimits? _limits;
    private readonly AutoResetEvent _lost = new(false);
    private readonly ManualResetEvent _stop = new(false);
    private readonly Thread _thread;
    private volatile OscTcpConnection _connection;
    private int _opened = 1;
    private volatile bool _stopped;

    /// <summary>Connects, and keeps connecting from then on.</summary>
    /// <param name="remote">Where to.</param>
    /// <param name="framing">How packets are told apart.</param>
    /// <param name="received">Takes what arrives, on whichever connection.</param>
    /// <param name="patience">How long to wait for the other end at each try.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    /// <exception cref="IOException">Nobody answers there at first.</exception>
    public OscTcpClient(IPEndPoint remote, OscFraming framing, OscReceived received, TimeSpan patience, OscLimits? limits = null)
    {
        (_remote, _framing, _received, _patience, _limits) = (remote, framing, received, patience, limits);
        _connection = Connect();
        _thread = Sockets.Listen($"OSC to {remote}", Loop);
    }

    /// <summary>True while the other end is there.</summary>
    public bool IsOpen => _connection.IsOpen;

    /// <summary>How often the connection was made, from 1: one more each time that the other end came back.</summary>
    public int Opened => Volatile.Read(ref _opened);

    /// <summary>What was wrong with packets that were dropped, over all connections.</summary>
    public FaultCounts<OscFault> Faults { get; } = new();

    /// <summary>Sends a packet in its frame.</summary>
    /// <returns>False while the other end is not there; the packet is not kept.</returns>
    public bool Send(ReadOnlySpan<byte> packet) => _connection.Send(packet);

    /// <summary>Closes the connection for good.</summary>
    public void Dispose()
    {
        _stopped = true;
        _stop.Set();
        Sockets.WaitFor(_thread);
        _connection.Dispose();
        _lost.Dispose();
        _stop.Dispose();
    }

    private OscTcpConnection Connect() => new(Sockets.Tcp(_remote, _patience), _framing, _received, _limits, Faults, _ => Lose());

    private void Lose()
    {
        try
        {
            _lost.Set();
        }
        catch (ObjectDisposedException)
        {
            // It ends because we do.
        }
    }

    private void Loop()
    {
        while (WaitHandle.WaitAny([_stop, _lost]) == 1)
            while (!_stopped && !_connection.IsOpen)
            {
                try
                {
                    _connection = Connect();
                    Interlocked.Increment(ref _opened);
                }
                catch (IOException)
                {
                    _stop.WaitOne(Pause);
                }
            }
    }
}
