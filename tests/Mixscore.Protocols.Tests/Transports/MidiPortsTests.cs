using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

/// <summary>Ports that take and give messages, here made by hand: the real ones are there on Windows only.</summary>
public sealed class MidiPortsTests
{
    private readonly List<string> _sent = [];
    private bool _isGone;

    private sealed class Device(Action closed) : IDisposable
    {
        public void Dispose() => closed();
    }

    private MidiPorts Open(MidiReceived received) =>
        new(message => Add($"{message:x6}"), exclusive => Add(Convert.ToHexStringLower(exclusive)), [new Device(() => _sent.Add("closed"))], received);

    private bool Add(string message)
    {
        if (!_isGone) _sent.Add(message);
        return !_isGone;
    }

    // midiOutShortMsg, Windows multimedia: the status in the lowest byte. A program change has two bytes, clock has one.
    [Fact]
    public void Bytes_go_out_as_messages()
    {
        var ports = Open(_ => { });
        Assert.True(ports.Send([0xB0, 0x07, 0x64, 0x27, 0x01, 0xC2, 0x05, 0xF8]));
        Assert.True(ports.Send([0xF0, 0x7F, 0x7F, 0x01, 0x01, 0xF7]));
        Assert.Equal(["6407b0", "0127b0", "0005c2", "0000f8", "f07f7f0101f7"], _sent);
        _isGone = true;
        Assert.False(ports.Send([0xF8]));
        Assert.False(ports.IsOpen);
        ports.Dispose();
        Assert.Equal("closed", _sent[^1]);
    }

    [Fact]
    public void Messages_come_in_as_they_are()
    {
        var heard = new List<string>();
        using var ports = Open(arrival => heard.Add($"{arrival.Message} {Convert.ToHexStringLower(arrival.Exclusive)}".Trim()));
        ports.Hear(0x640790);
        ports.Hear(0x0127B0);
        ports.Hear(0x0005C2);
        ports.Hear(0x12);       // no status: nothing
        ports.Hear(0xF8);
        ports.Hear([0xF0, 0x7F, 0x01, 0xF7]);
        Assert.Equal(["90 07 64", "b0 27 01", "c2 05", "f8", "SystemExclusive 7f01"], heard);
        Assert.Equal("", ports.Faults.ToString());
    }
}
