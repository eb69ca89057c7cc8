using Mixscore.Protocols.Transports;
using NAudio.Midi;

namespace Mixscore.Protocols.Tests.Transports;

/// <summary>Ports that take and give messages, here made by hand: the real ones are there on Windows only.</summary>
public sealed class MidiPortsTests
{
    private sealed class Out : IMidiOutput
    {
        internal List<string> Sent { get; } = [];

        internal bool IsGone { get; set; }

        public void Send(int message) => Add($"{message:x6}");

        public void SendBuffer(byte[] byteBuffer) => Add(Convert.ToHexStringLower(byteBuffer));

        public void Dispose() => Sent.Add("closed");

        private void Add(string message)
        {
            if (IsGone) throw new InvalidOperationException("unplugged");
            Sent.Add(message);
        }
    }

    private sealed class In : IMidiInput
    {
        public event EventHandler<MidiInMessageEventArgs>? MessageReceived;

        public event EventHandler<MidiInSysexMessageEventArgs>? SysexMessageReceived;

        public void Start() => MessageReceived!(this, new MidiInMessageEventArgs(0x640790, TimeSpan.Zero));

        public void Stop()
        {
        }

        public void Dispose()
        {
        }

        internal void Short(int raw) => MessageReceived!(this, new MidiInMessageEventArgs(raw, TimeSpan.Zero));

        internal void Long(params byte[] bytes) => SysexMessageReceived!(this, new MidiInSysexMessageEventArgs(bytes, TimeSpan.Zero));
    }

    // midiOutShortMsg, Windows multimedia: the status in the lowest byte. A program change has two bytes, clock has one.
    [Fact]
    public void Bytes_go_out_as_messages()
    {
        var port = new Out();
        var ports = new MidiPorts(port, null, _ => { });
        Assert.True(ports.Send([0xB0, 0x07, 0x64, 0x27, 0x01, 0xC2, 0x05, 0xF8]));
        Assert.True(ports.Send([0xF0, 0x7F, 0x7F, 0x01, 0x01, 0xF7]));
        Assert.Equal(["6407b0", "0127b0", "0005c2", "0000f8", "f07f7f0101f7"], port.Sent);
        port.IsGone = true;
        Assert.False(ports.Send([0xF8]));
        Assert.False(ports.IsOpen);
        ports.Dispose();
        Assert.Equal("closed", port.Sent[^1]);
    }

    [Fact]
    public void Messages_come_in_as_they_are()
    {
        var input = new In();
        var heard = new List<string>();
        using var ports = new MidiPorts(new Out(), input, arrival => heard.Add($"{arrival.Message} {Convert.ToHexStringLower(arrival.Exclusive)}".Trim()));
        input.Short(0x0127B0);
        input.Short(0x0005C2);
        input.Short(0x12);       // no status: nothing
        input.Short(0xF8);
        input.Long(0xF0, 0x7F, 0x01, 0xF7);
        Assert.Equal(["90 07 64", "b0 27 01", "c2 05", "f8", "SystemExclusive 7f01"], heard);
        Assert.Equal("", ports.Faults.ToString());
    }

    [Theory]
    [InlineData("Desk In", 1), InlineData("desk in", 1), InlineData("2", 2), InlineData("Key", 0), InlineData("Desk", null), InlineData("3", null), InlineData("Organ", null)]
    public void A_device_is_found_by_its_name_or_its_number(string wanted, int? found) => Assert.Equal(found, MidiNames.Find(wanted, ["Keyboard", "Desk In", "Desk In 2"]));
}
