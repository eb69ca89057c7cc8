using System.Net;
using System.Net.Sockets;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Desk;

/// <summary>
/// One end of the wire of a desk map, open: values of strips go out and come in. OSC goes as one bundle a call as far as it fits
/// a datagram. MIDI goes as the wire has room: 3,125 bytes in any second, the largest error first; the rest waits, and follows on
/// its own. What arrives comes on the wire's own thread. Sending is safe for several threads and takes no memory.
/// </summary>
public sealed class DeskLink : IDisposable
{
    // A bundle of more is cut in two: what a datagram carries over an Ethernet without being cut by the network.
    private const int MostBytes = 1472;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(3);

    /// <summary>How soon what waits is tried again: the pace of the live run.</summary>
    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(20);

    private readonly StripAddresses _addresses;
    private readonly Action<StripValue> _received;
    private readonly MidiReceived? _midi;
    private readonly Lock _sending = new();
    private readonly byte[] _packet = new byte[MostBytes];
    private readonly List<IDisposable> _open = [];
    private Func<ReadOnlyMemory<byte>, bool> _send = _ => false;
    private Func<bool> _isReady = () => true;
    private Func<string> _faults = () => "";
    private IPEndPoint? _lastSender;
    private RtpMidiUdp? _session;
    private readonly MidiParser _parser = new(0);
    private readonly MidiThinner? _thinner;
    private readonly ITimer? _later;
    private bool _isClosed;
    private Func<int> _opened = () => 1;

    private DeskLink(DeskMap map, DeskEnd end, TimeProvider time, Action<StripValue> received, MidiReceived? midi)
    {
        (Map, _addresses, _received, _midi) = (map, new StripAddresses(map, end), received, midi);
        if (map.Protocol != DeskProtocol.Midi) return;
        _thinner = new MidiThinner(_addresses, map, time);
        _later = time.CreateTimer(_ => SendWaiting(), null, Timeout.InfiniteTimeSpan, Timeout.InfiniteTimeSpan);
        _open.Add(_later);
    }

    /// <summary>The map.</summary>
    public DeskMap Map { get; }

    /// <summary>True when something that is sent now has someone to go to, as far as can be known.</summary>
    public bool IsReady => _isReady();

    /// <summary>How often a stream to the desk was opened: one more each time that the desk went away and came back, as it may then
    /// stand anywhere. 1 for every other wire.</summary>
    public int Opened => _opened();

    /// <summary>What waits for room on a MIDI wire; nothing for OSC.</summary>
    public DeskBehind Behind
    {
        get
        {
            lock (_sending) return _thinner?.Behind ?? default;
        }
    }

    /// <summary>The most bytes that went over a MIDI wire in any second; 0 for OSC.</summary>
    public int PeakBytes
    {
        get
        {
            lock (_sending) return _thinner?.PeakBytes ?? 0;
        }
    }

    /// <summary>What was wrong with what arrived, each fault with its count; empty for nothing.</summary>
    public string Faults => _faults();

    /// <summary>Opens a map's wire.</summary>
    /// <param name="map">The map.</param>
    /// <param name="end">Which end this is: the engineer's sends to <see cref="DeskMap.To"/> and hears at <see cref="DeskMap.Listen"/>,
    /// the desk's does the opposite, and answers whoever spoke last where the map has no <see cref="DeskMap.Listen"/>.</param>
    /// <param name="time">The clock.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <param name="midi">Takes every MIDI message that arrives, whether it is a strip's or not; <c>null</c> for nobody.</param>
    /// <exception cref="IOException">A host, port or device is not available.</exception>
    /// <exception cref="UnauthorizedAccessException">A device may not be opened.</exception>
    public static DeskLink Open(DeskMap map, DeskEnd end, TimeProvider time, Action<StripValue> received, MidiReceived? midi = null)
    {
        var link = new DeskLink(map, end, time, received, midi);
        try
        {
            switch (map.To.Carrier)
            {
                case Carrier.Udp: link.OpenUdp(end); break;
                case Carrier.Tcp: link.OpenTcp(end, OscFraming.Length); break;
                case Carrier.TcpSlip: link.OpenTcp(end, OscFraming.Slip); break;
                case Carrier.RtpMidi: link.OpenSession(end, time); break;
                default: link.OpenDevice(); break;
            }
            return link;
        }
        catch
        {
            link.Dispose();
            throw;
        }
    }

    /// <summary>Whether the map gives a strip's control an address that can be sent to.</summary>
    public bool Has(StripPart part, int strip) => _addresses.Has(part, strip);

    /// <summary>Sends values; those that a MIDI wire has no room for follow as soon as it has.</summary>
    /// <returns>False when some could not be sent.</returns>
    public bool Send(params ReadOnlySpan<StripValue> values)
    {
        lock (_sending)
        {
            if (_thinner is null) return SendOsc(values);
            _thinner.Take(values);
            return SendMidi(_thinner);
        }
    }

    /// <summary>Closes the wire.</summary>
    public void Dispose()
    {
        lock (_sending) _isClosed = true;
        foreach (var open in _open) open.Dispose();
    }

    /// <summary>Where a host and port are on the network; IPv4 before IPv6.</summary>
    /// <exception cref="IOException">The host is not known.</exception>
    public static IPEndPoint Resolve(Endpoint endpoint)
    {
        try
        {
            var addresses = IPAddress.TryParse(endpoint.Host, out var one) ? [one] : Dns.GetHostAddresses(endpoint.Host);
            var best = addresses.OrderBy(address => address.AddressFamily == AddressFamily.InterNetwork ? 0 : 1).FirstOrDefault();
            return new IPEndPoint(best ?? throw new IOException($"{endpoint.Host} has no address"), endpoint.Port);
        }
        catch (SocketException problem)
        {
            throw new IOException($"{endpoint.Host} is not known: {problem.Message}", problem);
        }
    }

    // A socket of the family of the other end, at any port.
    private static IPEndPoint Any(IPEndPoint other) => new(
        IPAddress.IsLoopback(other.Address) ? other.Address : other.AddressFamily == AddressFamily.InterNetwork ? IPAddress.Any : IPAddress.IPv6Any, 0);

    private void OpenUdp(DeskEnd end)
    {
        var to = Resolve(Map.To);
        var listen = Map.Listen is { Carrier: Carrier.Udp } given ? Resolve(given) : null;
        var udp = new OscUdp(end == DeskEnd.Desk ? to : listen ?? Any(to), (packet, from) =>
        {
            _lastSender = from;
            _addresses.ReadOsc(packet, _received);
        });
        _open.Add(udp);
        IPEndPoint? Target() => end == DeskEnd.Engineer ? to : listen ?? _lastSender;
        (_isReady, _faults) = (() => Target() is not null, udp.Faults.ToString);
        _send = packet => Target() is { } target && udp.Send(packet.Span, target);
    }

    private void OpenTcp(DeskEnd end, OscFraming framing)
    {
        var to = Resolve(Map.To);
        if (end == DeskEnd.Desk)
        {
            var listener = new OscTcpListener(to, framing, (packet, _) => ReadOne(packet));
            _open.Add(listener);
            (_isReady, _faults) = (() => listener.Connections.Count > 0, listener.Faults.ToString);
            _send = packet => listener.Send(packet.Span) > 0;
            return;
        }
        var client = new OscTcpClient(to, framing, (packet, _) => ReadOne(packet), Patience);
        _open.Add(client);
        (_isReady, _faults, _opened) = (() => client.IsOpen, client.Faults.ToString, () => client.Opened);
        _send = packet => client.Send(packet.Span);
    }

    // Several connections may speak at once; what they say is taken one after the other.
    private void ReadOne(ReadOnlySpan<byte> packet)
    {
        lock (_open) _addresses.ReadOsc(packet, _received);
    }

    private void OpenSession(DeskEnd end, TimeProvider time)
    {
        var to = Resolve(Map.To);
        var identity = RtpMidiIdentity.Random(end == DeskEnd.Desk ? Map.Title : "Mixscore");
        _session = new RtpMidiUdp(end == DeskEnd.Desk ? to : Any(to), end == DeskEnd.Desk ? null : to, identity, time, Read);
        _open.Add(_session);
        (_isReady, _faults) = (() => _session.State == RtpMidiState.Open, _session.Faults.ToString);
    }

    private void OpenDevice()
    {
        if (OperatingSystem.IsWindows())
        {
            var ports = WindowsMidi.Open(Map.To.Device, Read);
            _open.Add(ports);
            (_isReady, _faults) = (() => ports.IsOpen, ports.Faults.ToString);
            _send = messages => ports.Send(messages.Span);
            return;
        }
        var device = new MidiDevice(Map.To.Device, Read);
        _open.Add(device);
        (_isReady, _faults) = (() => device.IsOpen, device.Faults.ToString);
        _send = messages => device.Send(messages.Span);
    }

    private void Read(MidiArrival arrival)
    {
        _midi?.Invoke(arrival);
        if (_addresses.ReadMidi(arrival.Message, out var value)) _received(value);
    }

    private bool SendOsc(ReadOnlySpan<StripValue> values)
    {
        var all = true;
        while (values.Length > 0)
        {
            var before = values.Length;
            var length = _addresses.WriteOsc(ref values, _packet);
            all &= _send(_packet.AsMemory(0, length));
            // One address that no datagram holds would be tried for ever.
            if (values.Length == before) values = values[1..];
        }
        return all;
    }

    private void SendWaiting()
    {
        lock (_sending)
        {
            if (!_isClosed) SendMidi(_thinner!);
        }
    }

    private bool SendMidi(MidiThinner thinner)
    {
        while (thinner.Write(_packet) is > 0 and var length)
        {
            if (_session is null ? !_send(_packet.AsMemory(0, length)) : !SendPacket(_session, _packet.AsSpan(0, length)))
            {
                thinner.Lost();
                return false;
            }
            thinner.Sent();
        }
        if (thinner.IsWaiting) _later!.Change(Tick, Timeout.InfiniteTimeSpan);
        return true;
    }

    private bool SendPacket(RtpMidiUdp session, ReadOnlySpan<byte> bytes)
    {
        Span<MidiMessage> messages = stackalloc MidiMessage[MostBytes / 3];
        var count = 0;
        while (_parser.Read(ref bytes, out var message)) messages[count++] = message;
        return count == 0 || session.Send(messages[..count]);
    }
}
