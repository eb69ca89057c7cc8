using System.IO.Pipes;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

public sealed class MidiTransportTests
{
    [Fact]
    public async Task Pipes_carry_messages_and_wrong_bytes_are_counted_by_name()
    {
        using var arrivals = new Arrivals<string>();
        using var writes = new AnonymousPipeServerStream(PipeDirection.Out);
        using var reads = new AnonymousPipeClientStream(PipeDirection.In, writes.ClientSafePipeHandle);
        using var there = new MidiPipe(reads, null, Waiting.Into(arrivals));
        using var here = new MidiPipe(null, writes, _ => { });
        // Running status, a clock within, a system exclusive message, data without status, an undefined status.
        Assert.True(here.Send([0xB0, 0x07, 0x64, 0x08, 0xF8, 0x20, 0xF0, 0x7E, 0x01, 0xF7, 0x40, 0xF5, 0x90, 0xB0, 0x07, 0x01]));
        Assert.Equal(["b0 07 64", "f8", "b0 08 20", "f0 7e01 f7", "b0 07 01"], arrivals.Next(5));
        Assert.Equal("DataWithoutStatus 1, MessageCutShort 1, UndefinedStatus 1", there.Faults.ToString());
        await writes.DisposeAsync();
        await there.Ended.WaitAsync(TimeSpan.FromSeconds(10), TestContext.Current.CancellationToken);
        Assert.False(here.Send([0xF8]));
    }

    [Fact]
    public void A_device_is_read_and_written_and_closes_while_nothing_comes()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "devices are files on Unix systems only");
        var folder = Directory.CreateTempSubdirectory("mixscore");
        var path = Path.Combine(folder.FullName, "midi");
        try
        {
            using (var make = System.Diagnostics.Process.Start("mkfifo", path)) make.WaitForExit();
            using var arrivals = new Arrivals<string>();
            var device = new MidiDevice(path, Waiting.Into(arrivals));
            // A named pipe hands back what is written to it, as a device with its output wired to its input would.
            Assert.True(device.Send([0xB0, 0x07, 0x64, 0xE0, 0x00, 0x40]));
            Assert.Equal(["b0 07 64", "e0 00 40"], arrivals.Next(2));
            device.Dispose();
            Assert.False(device.IsOpen || device.Send([0xF8]));
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Fact]
    public void A_device_that_is_not_there_is_not_available() =>
        Assert.Throws<FileNotFoundException>(() => new MidiDevice(Path.Combine(Path.GetTempPath(), "no-such-midi"), _ => { }));

    [Fact]
    public void A_session_over_sockets_opens_carries_both_ways_and_closes()
    {
        using var atDesk = new Arrivals<string>();
        using var atEngineer = new Arrivals<string>();
        using var desk = new RtpMidiUdp(Waiting.AnyPort, null, RtpMidiIdentity.Random("desk"), TimeProvider.System, Waiting.Into(atDesk));
        var engineer = new RtpMidiUdp(Waiting.AnyPort, desk.Local, RtpMidiIdentity.Random("engineer"), TimeProvider.System, Waiting.Into(atEngineer));
        Waiting.Until(() => desk.State == RtpMidiState.Open && engineer.State == RtpMidiState.Open);
        Assert.True(engineer.Send(Waiting.Control(7, 100), Waiting.Control(39, 5), MidiMessage.Clock));
        Assert.Equal(["b0 07 64", "b0 27 05", "f8"], atDesk.Next(3));
        Assert.True(desk.Send(Waiting.Control(7, 3)));
        Assert.Equal("b0 07 03", atEngineer.Next());
        Waiting.Until(() => engineer.RoundTrip is not null && desk.RoundTrip is not null && !engineer.AwaitsFeedback && !desk.AwaitsFeedback);
        engineer.Dispose();
        Waiting.Until(() => desk.State == RtpMidiState.Waiting);
        Assert.False(desk.Send(MidiMessage.Clock) || engineer.Send(MidiMessage.Clock));
        Assert.Equal((0, 0), (desk.Faults.Total, desk.Missing));
    }
}
