using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// OSC in a stream. Malformed packets are counted and dropped; a wrong length, after which a stream cannot be read on, closes
/// it. Safe for several threads.
/// </summary>
public sealed class OscTcpConnection : IDisposable
{
    // A peer that takes nothing for so long is given up, so that one stalled desk does not hold the others.
    private const int SendPatienceMilliseconds = 1000;
    private readonly Socket _socket;
    private readonly OscFraming _framing;
    private readonly OscReceived _received;
    private readonly OscLimits? _limits;
    private readonly Action<OscTcpConnection>? _closed;
    private readonly Lock _sending = new();
    private readonly Thread _thread;
    private byte[] _frame = new byte[2048];
    private volatile bool _isOpen = true;

    internal OscTcpConnection(
        Socket socket, OscFraming framing, OscReceived received, OscLimits? limits, FaultCounts<OscFault> faults, Action<OscTcpConnection>? closed)
    {
        (_socket, _framing, _received, _limits, _closed, Faults) = (socket, framing, received, limits, closed, faults);
        _socket.NoDelay = true;
        _socket.SendTimeout = SendPatienceMilliseconds;
        Local = (IPEndPoint)_socket.LocalEndPoint!;
        Remote = (IPEndPoint)_socket.RemoteEndPoint!;
        _thread = Sockets.Listen($"OSC {Remote}", Loop);
    }

    /// <summary>This end.</summary>
    public IPEndPoint Local { get; }

    /// <summary>The other end.</summary>
    public IPEndPoint Remote { get; }

    /// <summary>False once either end has closed it.</summary>
    public bool IsOpen => _isOpen;

    /// <summary>What was wrong with packets that were dropped; shared by all connections of a listener.</summary>
    public FaultCounts<OscFault> Faults { get; }

    /// <summary>Connects.</summary>
    /// <param name="remote">Where to.</param>
    /// <param name="framing">How packets are told apart.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <param name="patience">How long to wait for the other end.</param>
    /// <param name="limits">How much is taken; <c>null</c> for <see cref="OscLimits.Default"/>.</param>
    /// <exception cref="IOException">Nobody answers there.</exception>
    public static OscTcpConnection Connect(
        IPEndPoint remote, OscFraming framing, OscReceived received, TimeSpan patience, OscLimits? limits = null) =>
        new(Sockets.Tcp(remote, patience), framing, received, limits, new FaultCounts<OscFault>(), closed: null);

    /// <summary>Sends a packet in its frame.</summary>
    /// <returns>False when the connection is closed, or the other end took nothing for a second, which closes it.</returns>
    public bool Send(ReadOnlySpan<byte> packet)
    {
        lock (_sending)
        {
            if (!_isOpen) return false;
            var most = Math.Max(OscSlip.MostBytes(packet.Length), OscLengthFraming.HeaderBytes + packet.Length);
            if (_frame.Length < most) _frame = new byte[2 * most];
            var length = _framing == OscFraming.Slip ? OscSlip.Frame(packet, _frame) : OscLengthFraming.Frame(packet, _frame);
            try
            {
                for (var sent = 0; sent < length;) sent += _socket.Send(_frame.AsSpan(sent, length - sent));
                return true;
            }
            catch (Exception problem) when (problem is SocketException or ObjectDisposedException)
            {
                Close();
                return false;
            }
        }
    }

    /// <summary>Closes the connection.</summary>
    public void Dispose()
    {
        Close();
        Sockets.WaitFor(_thread);
    }

    private void Close()
    {
        _isOpen = false;
        _socket.Dispose();
    }

    private void Loop()
    {
        var buffer = new byte[65536];
        var longest = (_limits ?? OscLimits.Default).Bytes;
        var (lengths, slip) = (new OscLengthReader(longest), new OscSlipReader(longest));
        while (_isOpen)
        {
            int count;
            try
            {
                count = _socket.Receive(buffer);
            }
            catch (Exception problem) when (problem is SocketException or ObjectDisposedException)
            {
                break;
            }
            if (count == 0) break;
            ReadOnlySpan<byte> input = buffer.AsSpan(0, count);
            var dropped = slip.Dropped;
            while (_framing == OscFraming.Slip ? slip.Read(ref input, out var packet) : lengths.Read(ref input, out packet)) Take(packet);
            for (; dropped < slip.Dropped; dropped++) Faults.Count(OscFault.Truncated);
            Faults.Count(lengths.Fault);
            if (lengths.Fault != OscFault.None) break;
        }
        Close();
        _closed?.Invoke(this);
    }

    private void Take(ReadOnlySpan<byte> packet)
    {
        var problem = OscCodec.Check(packet, _limits);
        Faults.Count(problem.Fault);
        if (problem.IsNone && _isOpen) _received(packet, Remote);
    }
}
