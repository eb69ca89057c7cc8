using System.Globalization;

namespace Mixscore.Desk;

/// <summary>How bytes reach a desk, or come from it.</summary>
public enum Carrier
{
    /// <summary>Datagrams: <c>udp://127.0.0.1:9000</c>.</summary>
    Udp,

    /// <summary>A stream with a length before each packet: <c>tcp://127.0.0.1:9000</c>.</summary>
    Tcp,

    /// <summary>A stream with SLIP frames: <c>tcp+slip://127.0.0.1:9000</c>.</summary>
    TcpSlip,

    /// <summary>MIDI over RTP: <c>rtp-midi://127.0.0.1:5004</c>; the port is the session's control port.</summary>
    RtpMidi,

    /// <summary>A device that takes raw MIDI bytes: <c>midi:/dev/snd/midiC1D0</c>.</summary>
    MidiDevice,
}

/// <summary>Where a desk is reached. Data only: nothing is opened here.</summary>
/// <param name="Carrier">How bytes travel.</param>
/// <param name="Host">A name or address; empty for a device.</param>
/// <param name="Port">1 to 65535; 0 for a device.</param>
/// <param name="Device">The path of a device; empty otherwise.</param>
public sealed record Endpoint(Carrier Carrier, string Host, int Port, string Device = "")
{
    private const string DevicePrefix = "midi:";

    /// <summary>Reads an endpoint.</summary>
    /// <param name="text">As written.</param>
    /// <param name="endpoint">The endpoint, or <c>null</c>.</param>
    /// <param name="problem">What is wrong with the text, in words, or <c>null</c>.</param>
    public static bool TryParse(string text, out Endpoint? endpoint, out string? problem)
    {
        (endpoint, problem) = Read(text.Trim());
        return endpoint is not null;
    }

    /// <summary>As written in a desk map.</summary>
    public override string ToString() => Carrier == Carrier.MidiDevice
        ? DevicePrefix + Device
        : string.Create(CultureInfo.InvariantCulture, $"{Scheme(Carrier)}://{(Host.Contains(':', StringComparison.Ordinal) ? $"[{Host}]" : Host)}:{Port}");

    private static (Endpoint?, string?) Read(string text)
    {
        var scheme = text.IndexOf("://", StringComparison.Ordinal);
        if (scheme < 0)
        {
            if (!text.StartsWith(DevicePrefix, StringComparison.Ordinal)) return (null, $"\"{text}\" does not say how the desk is reached");
            var path = text[DevicePrefix.Length..].Trim();
            return path.Length > 0 ? (new Endpoint(Carrier.MidiDevice, "", 0, path), null) : (null, "\"midi:\" names no device");
        }
        Carrier? carrier = text[..scheme] switch { "udp" => Carrier.Udp, "tcp" => Carrier.Tcp, "tcp+slip" => Carrier.TcpSlip, "rtp-midi" => Carrier.RtpMidi, _ => null };
        if (carrier is not { } known) return (null, $"\"{text[..scheme]}\" is not a way to a desk");
        var rest = text[(scheme + 3)..].TrimEnd('/');
        var colon = rest.LastIndexOf(':');
        if (colon < 0) return (null, $"\"{text}\" has no port");
        var host = rest[..colon];
        if (host.Length > 2 && host[0] == '[' && host[^1] == ']') host = host[1..^1];
        if (host.Length == 0 || Uri.CheckHostName(host) == UriHostNameType.Unknown) return (null, $"\"{rest[..colon]}\" is not a host");
        return int.TryParse(rest[(colon + 1)..], NumberStyles.None, CultureInfo.InvariantCulture, out var port) && port is > 0 and <= 65535
            ? (new Endpoint(known, host, port), null)
            : (null, $"\"{rest[(colon + 1)..]}\" is not a port from 1 to 65535");
    }

    private static string Scheme(Carrier carrier) => carrier switch
    {
        Carrier.Udp => "udp",
        Carrier.Tcp => "tcp",
        Carrier.TcpSlip => "tcp+slip",
        Carrier.RtpMidi => "rtp-midi",
        _ => "midi",
    };
}
