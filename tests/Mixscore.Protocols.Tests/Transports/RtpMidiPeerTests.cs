using Mixscore.Protocols.Midi;
using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

public sealed class RtpMidiPeerTests
{
    // Derived from RFC 6295, sections 4 and 5: after any loss the journal of a later packet brings every controller to where
    // it is at the sender. Nothing is sent twice: what the network loses, only the journal can restore.
    [Theory]
    [InlineData(0.0, 0), InlineData(0.01, 0), InlineData(0.10, 0), InlineData(0.01, 200), InlineData(0.10, 200), InlineData(0.5, 200)]
    public void Every_controller_ends_right_by_the_journal_alone(double loss, double jitter)
    {
        for (var seed = 1; seed <= 5; seed++)
        {
            var (sent, heard, recovered) = (new MidiAssembler(), new MidiAssembler(), 0);
            var (wanted, got) = (new Dictionary<(MidiTarget, int, int), int>(), new Dictionary<(MidiTarget, int, int), int>());
            var net = new LossyNet(seed, loss, jitter, arrival =>
            {
                if (arrival.IsRecovered) recovered++;
                Note(heard, arrival.Message, got);
            });
            while (net.Engineer.State != RtpMidiState.Open || net.Desk.State != RtpMidiState.Open) net.Run(TimeSpan.FromMilliseconds(100));
            var random = new Random(1000 + seed);
            var packets = net.CommandPackets;
            for (var tick = 0; tick < 500; tick++)
            {
                var messages = Moves(random);
                foreach (var message in messages) Note(sent, message, wanted);
                Assert.True(net.Engineer.Send(messages));
                packets++;
                net.Run(TimeSpan.FromMilliseconds(20));
            }
            for (var i = 0; i < 300 && net.Engineer.AwaitsFeedback; i++) net.Run(TimeSpan.FromMilliseconds(100));
            Assert.False(net.Engineer.AwaitsFeedback);
            Assert.Equal(wanted.OrderBy(pair => pair.Key), got.OrderBy(pair => pair.Key));
            Assert.Equal(packets, net.CommandPackets);
            Assert.Equal((0, 0), (net.Desk.Unmended, net.Desk.Faults.Total));
            if (loss > 0) Assert.True(net.Lost > 0 && net.Desk.Missing > 0 && recovered > 0);
            if (jitter > 0) Assert.True(net.Desk.Late > 0);
        }
    }

    // Derived: the last packet before a rest has none behind it that would show its loss; a packet of the journal alone does.
    [Fact]
    public void The_last_move_before_a_rest_is_guarded()
    {
        var arrived = new List<string>();
        var net = new LossyNet(1, 0, 0, arrival => arrived.Add($"{arrival.Message} {(arrival.IsRecovered ? "recovered" : "heard")}"));
        net.Run(TimeSpan.FromSeconds(1));
        net.IsCut = true;
        net.Engineer.Send(Waiting.Control(7, 99));
        net.Run(TimeSpan.FromMilliseconds(50));
        net.IsCut = false;
        net.Run(TimeSpan.FromMilliseconds(100));
        Assert.Equal(["b0 07 63 recovered"], arrived);
        Assert.Equal(1, net.CommandPackets);
    }

    // A full frame of MIDI timecode between moves: it arrives whole and in its place, and the moves' journal goes on.
    [Fact]
    public void A_full_frame_of_timecode_goes_over_a_session()
    {
        var arrived = new List<string>();
        var net = new LossyNet(2, 0, 0, arrival => arrived.Add(
            TimecodeFullFrame.TryRead(arrival.Exclusive, out var label) ? $"{label}" : $"{arrival.Message}{(arrival.IsRecovered ? " recovered" : "")}"));
        var frame = new byte[TimecodeFullFrame.Bytes];
        TimecodeFullFrame.Write(frame, new Timecode(TimecodeRate.Frames25, 1, 2, 3, 4));
        Assert.False(net.Engineer.SendExclusive(frame));   // not open yet
        net.Run(TimeSpan.FromSeconds(1));
        net.Engineer.Send(Waiting.Control(7, 1));
        Assert.True(net.Engineer.SendExclusive(frame));
        net.IsCut = true;
        net.Engineer.Send(Waiting.Control(7, 2));
        net.Run(TimeSpan.FromMilliseconds(10));
        net.IsCut = false;
        Assert.True(net.Engineer.SendExclusive(frame));
        net.Run(TimeSpan.FromMilliseconds(200));
        var label = $"{new Timecode(TimecodeRate.Frames25, 1, 2, 3, 4)}";
        Assert.Equal(["b0 07 01", label, "b0 07 02 recovered", label], arrived);
        Assert.False(net.Engineer.SendExclusive([0xF0, .. new byte[2000], 0xF7]));
        Assert.Throws<ArgumentException>(() => net.Engineer.SendExclusive([0xF0, 0x80, 0xF7]));
    }

    [Fact]
    public void Clocks_are_compared_and_both_ends_agree()
    {
        var net = new LossyNet(3, 0, 0, _ => { });
        net.Run(TimeSpan.FromSeconds(12));
        Assert.Equal(net.Engineer.RoundTrip, net.Desk.RoundTrip);
        Assert.Equal(-net.Engineer.ClockOffset, net.Desk.ClockOffset);
        Assert.InRange(net.Engineer.RoundTrip!.Value.TotalMilliseconds, 2, 5);
        Assert.InRange(net.Engineer.ClockOffset!.Value.TotalMilliseconds, -2, 2);
        Assert.Equal(("desk", "engineer"), (net.Engineer.OtherName, net.Desk.OtherName));
    }

    [Fact]
    public void A_lost_session_is_invited_anew()
    {
        var net = new LossyNet(4, 0, 0, _ => { });
        net.Run(TimeSpan.FromSeconds(1));
        net.IsCut = true;
        net.Run(TimeSpan.FromSeconds(45));
        Assert.Equal((RtpMidiState.Inviting, RtpMidiState.Waiting), (net.Engineer.State, net.Desk.State));
        net.IsCut = false;
        net.Run(TimeSpan.FromSeconds(3));
        Assert.Equal((RtpMidiState.Open, RtpMidiState.Open), (net.Engineer.State, net.Desk.State));
        Assert.True(net.Engineer.Send(MidiMessage.Clock));
    }

    [Fact]
    public void Good_bye_ends_one_end_and_the_other_waits()
    {
        var net = new LossyNet(5, 0, 0, _ => { });
        net.Run(TimeSpan.FromSeconds(1));
        net.Engineer.End();
        net.Run(TimeSpan.FromSeconds(1));
        Assert.Equal((RtpMidiState.Ended, RtpMidiState.Waiting), (net.Engineer.State, net.Desk.State));
        Assert.False(net.Engineer.Send(MidiMessage.Clock));
    }

    [Fact]
    public void Strangers_and_nonsense_are_counted_and_move_nothing()
    {
        var arrived = 0;
        var net = new LossyNet(6, 0, 0, _ => arrived++);
        net.Run(TimeSpan.FromSeconds(1));
        var packet = new byte[64];
        var length = RtpMidiPacket.Write(packet, new RtpMidiHeader(7, 0, Source: 99), [0xB0, 7, 1], false, []);
        net.Desk.Take(RtpMidiPort.Data, packet.AsSpan(0, length));
        net.Desk.Take(RtpMidiPort.Data, [0xFF, 0xFF, 0x58, 0x58]);
        net.Desk.Take(RtpMidiPort.Data, [0x80]);
        Assert.Equal((0, 2, "Truncated 1"), (arrived, net.Desk.Strange, net.Desk.Faults.ToString()));
    }

    // Fuzz: datagrams of a good session, changed, cut and grown, at an end that is in a session. Any answer is right that is none.
    [Fact]
    public void Changed_datagrams_never_trouble_a_session()
    {
        var good = new List<(RtpMidiPort, byte[])>();
        var time = new StepTime();
        RtpMidiPeer? desk = null;
        var engineer = new RtpMidiPeer(new RtpMidiIdentity("engineer", 1, 100, 5), invites: true, time, (port, bytes) =>
        {
            good.Add((port, bytes.ToArray()));
            desk?.Take(port, bytes);
        }, _ => { });
        desk = new RtpMidiPeer(new RtpMidiIdentity("desk", 2, 200, 7), invites: false, time, (port, bytes) => engineer.Take(port, bytes.ToArray()), _ => { });
        var random = new Random(77);
        for (var i = 0; i < 30; i++)
        {
            time.Step(TimeSpan.FromMilliseconds(120));
            engineer.Tick();
            engineer.Send(Moves(random));
        }
        var target = new RtpMidiPeer(new RtpMidiIdentity("desk", 2, 200, 7), invites: false, time, (_, _) => { }, _ => { });
        Fuzz.KeepsNoMemory(() =>
        {
            for (var i = 0; i < Fuzz.Count(50_000); i++)
            {
                var (port, bytes) = good[random.Next(good.Count)];
                var copy = bytes.ToArray();
                for (var changes = random.Next(3); changes > 0; changes--) copy[random.Next(copy.Length)] = (byte)random.Next(256);
                if (random.Next(4) == 0) copy = copy[..random.Next(copy.Length + 1)];
                target.Take(port, copy);
                target.Tick();
            }
        });
        Assert.True(target.Faults.Total > 0 && target.Strange > 0);
    }

    private static MidiMessage[] Moves(Random random)
    {
        var bytes = new byte[16];
        var messages = new List<MidiMessage>();
        for (var i = 0; i < 6; i++)
        {
            var (channel, value) = (new MidiChannel(random.Next(1, 4)), new Midi14(random.Next(16384)));
            var length = random.Next(4) switch
            {
                0 => MidiEncoder.ControlChange14(bytes, channel, new Midi7(random.Next(8, 32)), value),
                1 => MidiEncoder.Nrpn(bytes, channel, new Midi14(random.Next(300)), value),
                2 => MidiMessage.PitchBend(channel, value).Write(bytes),
                _ => MidiMessage.ControlChange(channel, new Midi7(random.Next(70, 90)), value.High).Write(bytes),
            };
            ReadOnlySpan<byte> input = bytes.AsSpan(0, length);
            var parser = new MidiParser();
            while (parser.Read(ref input, out var message)) messages.Add(message);
        }
        return [.. messages];
    }

    private static void Note(MidiAssembler assembler, MidiMessage message, Dictionary<(MidiTarget, int, int), int> values)
    {
        if (assembler.Take(message, out var value)) values[(value.Target, value.Channel.Number, value.Number)] = value.Value.Value;
    }
}
