using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// An RTP-MIDI session over two UDP ports, control and the one above it for data. The end that invites names the other; the end
/// that waits takes whoever comes first, and refuses others while that session is open. Safe for several threads.
/// </summary>
public sealed class RtpMidiUdp : IDisposable
{
    private const int PairTries = 50;
    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(20);
    private readonly Socket[] _sockets = new Socket[2];
    private readonly IPEndPoint?[] _remotes = new IPEndPoint?[2];
    private readonly SocketAddress?[] _remoteAddresses = new SocketAddress?[2];   // made once, so that sending takes no memory
    private readonly Thread[] _threads;
    private readonly Lock _gate = new();
    private readonly RtpMidiPeer _peer;
    private readonly ITimer _timer;
    private readonly uint _source;
    private bool _stopped;

    /// <summary>Binds both ports and begins.</summary>
    /// <param name="local">The control port; 0 is any free pair.</param>
    /// <param name="remote">Whom to invite, by control port; <c>null</c> to wait.</param>
    /// <param name="identity">Who this end is.</param>
    /// <param name="time">The clock.</param>
    /// <param name="received">Takes messages; must not dispose of the session.</param>
    /// <exception cref="IOException">A port is not available.</exception>
    public RtpMidiUdp(IPEndPoint local, IPEndPoint? remote, RtpMidiIdentity identity, TimeProvider time, MidiReceived received)
    {
        (_sockets[0], _sockets[1]) = Pair(local);
        Local = (IPEndPoint)_sockets[0].LocalEndPoint!;
        if (remote is not null) Follow(remote);
        _source = identity.Source;
        _peer = new RtpMidiPeer(identity, remote is not null, time, Send, received);
        _threads = [.. Enum.GetValues<RtpMidiPort>().Select(port => Sockets.Listen($"RTP-MIDI {port} {Local}", () => Loop(port)))];
        _timer = time.CreateTimer(_ => Run(peer => peer.Tick()), null, TimeSpan.Zero, Tick);
    }

    /// <summary>The control port.</summary>
    public IPEndPoint Local { get; }

    /// <summary>Where the session stands.</summary>
    public RtpMidiState State => Ask(peer => peer.State);

    /// <summary>There and back by the last comparison of clocks; <c>null</c> before the first.</summary>
    public TimeSpan? RoundTrip => Ask(peer => peer.RoundTrip);

    /// <summary>Packets that were missing when a later one came, in this session.</summary>
    public long Missing => Ask(peer => peer.Missing);

    /// <summary>What was wrong with datagrams that were dropped.</summary>
    public FaultCounts<RtpMidiFault> Faults => _peer.Faults;

    /// <summary>True while something was sent of which the other end has not said that it has it.</summary>
    public bool AwaitsFeedback => Ask(peer => peer.AwaitsFeedback);

    /// <summary>Sends messages, in one packet as far as they fit.</summary>
    /// <returns>False when the session is not open; nothing is sent then.</returns>
    public bool Send(params ReadOnlySpan<MidiMessage> messages)
    {
        lock (_gate) return !_stopped && _peer.Send(messages);
    }

    /// <summary>Sends a system exclusive message: see <see cref="RtpMidiPeer.SendExclusive"/>.</summary>
    public bool SendExclusive(ReadOnlySpan<byte> exclusive)
    {
        lock (_gate) return !_stopped && _peer.SendExclusive(exclusive);
    }

    /// <summary>Says good-bye, stops and closes both ports.</summary>
    public void Dispose()
    {
        lock (_gate)
        {
            if (_stopped) return;
            _peer.End();
            _stopped = true;
        }
        _timer.Dispose();
        foreach (var socket in _sockets) socket.Dispose();
        foreach (var thread in _threads) Sockets.WaitFor(thread);
    }

    private static (Socket Control, Socket Data) Pair(IPEndPoint local)
    {
        for (var left = PairTries; ; left--)
        {
            var control = Sockets.Udp(local);
            var port = ((IPEndPoint)control.LocalEndPoint!).Port;
            try
            {
                if (port < IPEndPoint.MaxPort) return (control, Sockets.Udp(new IPEndPoint(local.Address, port + 1)));
                throw new IOException($"port {port} has none above it for the data");
            }
            catch (IOException) when (local.Port == 0 && left > 0)
            {
                control.Dispose();
            }
            catch (IOException)
            {
                control.Dispose();
                throw;
            }
        }
    }

    private void Follow(IPEndPoint control)
    {
        (_remotes[0], _remotes[1]) = (control, new IPEndPoint(control.Address, Math.Min(control.Port + 1, IPEndPoint.MaxPort)));
        (_remoteAddresses[0], _remoteAddresses[1]) = (_remotes[0]!.Serialize(), _remotes[1]!.Serialize());
    }

    private void Loop(RtpMidiPort port)
    {
        var buffer = new byte[65536];
        EndPoint from = new IPEndPoint(Local.Address, 0);
        while (!Volatile.Read(ref _stopped))
        {
            try
            {
                var length = _sockets[(int)port].ReceiveFrom(buffer, ref from);
                lock (_gate)
                {
                    if (!_stopped) Take(port, buffer.AsSpan(0, length), (IPEndPoint)from);
                }
            }
            catch (ObjectDisposedException)
            {
                return;
            }
            catch (SocketException)
            {
                // The other end is not there yet, or the socket was closed under us.
            }
        }
    }

    private void Take(RtpMidiPort port, ReadOnlySpan<byte> datagram, IPEndPoint from)
    {
        var isInvitation = RtpMidiInvitation.TryRead(datagram, out var invitation) && invitation.Kind == RtpMidiSessionKind.Invite;
        var isOther = _remotes[0] is { } known && known.Address.Equals(from.Address);
        if (isInvitation && port == RtpMidiPort.Control && _peer.State != RtpMidiState.Open) Follow(from);
        else if (isInvitation && port == RtpMidiPort.Control && isOther) Follow(from);
        else if (!isOther)
        {
            if (isInvitation) SendTo(port, new RtpMidiInvitation(RtpMidiSessionKind.Refuse, invitation.Token, _source, null).Encode(), from.Serialize());
            return;
        }
        _peer.Take(port, datagram);
    }

    private void Send(RtpMidiPort port, ReadOnlySpan<byte> datagram)
    {
        if (_remoteAddresses[(int)port] is { } remote) SendTo(port, datagram, remote);
    }

    private void SendTo(RtpMidiPort port, ReadOnlySpan<byte> datagram, SocketAddress to)
    {
        try
        {
            _sockets[(int)port].SendTo(datagram, SocketFlags.None, to);
        }
        catch (Exception problem) when (problem is SocketException or ObjectDisposedException)
        {
            // As good as lost on the way; the session's own means mend it.
        }
    }

    private void Run(Action<RtpMidiPeer> action)
    {
        lock (_gate)
        {
            if (!_stopped) action(_peer);
        }
    }

    private T Ask<T>(Func<RtpMidiPeer, T> question)
    {
        lock (_gate) return question(_peer);
    }
}
