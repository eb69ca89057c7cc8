using CsCheck;
using Mixscore.Desk.Tests.Map;
using Mixscore.Loudness;
using Mixscore.Protocols.Midi;

namespace Mixscore.Desk.Tests.Wire;

/// <summary>What goes over a MIDI wire while a performance runs. The wire: 31,250 bits a second at ten bits a byte, MIDI 1.0.</summary>
public sealed class MidiThinnerTests
{
    private static readonly TimeSpan Tick = TimeSpan.FromMilliseconds(20);

    /// <summary>32 faders of 14 bits on each of three channels, by a control change.</summary>
    private static readonly DeskMap Wide = DeskMapReader.Parse(
        Maps.Midi.Replace("channel: 1, control: \"{strip - 1}\"", "channel: \"{(strip - 1) / 32 + 1}\", nrpn: \"{strip + 300}\"", StringComparison.Ordinal), "hall.desk.yaml")[0];

    private static readonly DeskMap Narrow = DeskMapReader.Parse(Maps.Midi, "hall.desk.yaml")[0];

    private sealed class Wire(DeskMap map)
    {
        private readonly byte[] _packet = new byte[1472];
        private readonly StripAddresses _heard = new(map, DeskEnd.Desk);

        internal StepTime Time { get; } = new();

        internal MidiThinner Thinner => field ??= new MidiThinner(new StripAddresses(map, DeskEnd.Engineer), map, Time);

        /// <summary>What the desk has.</summary>
        internal Dictionary<int, double> Desk { get; } = [];

        internal List<(TimeSpan At, int Bytes)> Bytes { get; } = [];

        internal List<int> Order { get; } = [];

        internal void Run(params ReadOnlySpan<StripValue> values)
        {
            Thinner.Take(values);
            while (Thinner.Write(_packet) is > 0 and var length)
            {
                Bytes.Add((Time.Now, length));
                ReadOnlySpan<byte> rest = _packet.AsSpan(0, length);
                var parser = new MidiParser(0);
                while (parser.Read(ref rest, out var message))
                    if (_heard.ReadMidi(message, out var value))
                    {
                        Desk[value.Strip] = value.Value;
                        Order.Add(value.Strip);
                    }
                Thinner.Sent();
            }
            Time.Step(Tick);
        }

        internal int MostIn(TimeSpan span) => Bytes.Max(last => Bytes.Where(one => one.At <= last.At && one.At > last.At - span).Sum(one => one.Bytes));
    }

    // Law: whatever is asked for, no second carries more than 3125 bytes, and no tenth more than what the wire carries in it
    // and in 40 ms; and once nothing new is asked for, the desk soon has all of it.
    [Fact]
    public void No_second_carries_more_than_the_wire_and_all_arrives_in_the_end() =>
        Gen.Select(Gen.Int[1, 96], Gen.Int[0, 16383]).Array[0, 60].Array[1, 60].Sample(ticks =>
        {
            var wire = new Wire(Wide);
            var wanted = new Dictionary<int, double>();
            foreach (var tick in ticks)
            {
                foreach (var (strip, value) in tick) wanted[strip] = value;
                wire.Run([.. tick.Select(move => new StripValue(move.Item1, StripPart.Fader, move.Item2))]);
            }
            for (var i = 0; wire.Thinner.IsWaiting; i++)
            {
                Assert.True(i < 96 * 12 / 62.5 + 6, "it takes longer than the bytes need");
                wire.Run();
            }
            if (wire.Bytes.Count == 0) return;
            Assert.Equal(wanted.OrderBy(one => one.Key), wire.Desk.OrderBy(one => one.Key));
            Assert.InRange(wire.MostIn(TimeSpan.FromSeconds(1)), 1, MidiWire.BytesPerSecond);
            Assert.InRange(wire.MostIn(TimeSpan.FromSeconds(0.1)), 1, MidiWire.BytesPerSecond * 14 / 100);
            Assert.Equal(wire.MostIn(TimeSpan.FromSeconds(1)), wire.Thinner.PeakBytes);
        }, iter: 60);

    // 96 faders of 12 bytes each want to move at once: 10 fit into 40 ms, and they are those that are furthest off.
    [Fact]
    public void The_largest_error_goes_first_and_what_is_left_is_told()
    {
        var wire = new Wire(Wide);
        var law = Wide.Fader.Law;
        while (wire.Desk.Count < 96) wire.Run([.. Enumerable.Range(1, 96).Where(strip => !wire.Desk.ContainsKey(strip)).Select(strip => Move(strip, -30))]);
        for (var i = 0; i < 10; i++) wire.Run();
        wire.Order.Clear();
        wire.Run([.. Enumerable.Range(1, 96).Select(strip => Move(strip, -30 + 0.1 * ((strip * 37) % 97)))]);
        Assert.Equal(10, wire.Order.Count);
        Assert.Equal(Enumerable.Range(1, 96).OrderByDescending(strip => (strip * 37) % 97).Take(10), wire.Order);
        var (controls, worst) = wire.Thinner.Behind;
        Assert.Equal(86, controls);
        Assert.Equal(8.6, worst.Value, 0.05);   // the 11th of 9.6, 9.5 … dB

        StripValue Move(int strip, double gain) => new(strip, StripPart.Fader, law.Sent(Decibels.Of(gain)));
    }

    [Fact]
    public void Of_a_fader_that_moves_again_while_it_waits_only_the_last_value_is_sent()
    {
        var wire = new Wire(Wide);
        for (var tick = 0; tick < 5; tick++) wire.Run([.. Enumerable.Range(1, 96).Select(strip => new StripValue(strip, StripPart.Fader, 1000 + tick))]);
        while (wire.Thinner.IsWaiting) wire.Run();
        Assert.All(wire.Desk, one => Assert.Equal(1004, one.Value));
        Assert.True(wire.Order.Count < 2 * 96, $"{wire.Order.Count} moves were sent");
    }

    // What did not go is unknown: the next value goes before every other, even if it is the same.
    [Fact]
    public void After_a_loss_nothing_is_taken_to_be_known()
    {
        var wire = new Wire(Narrow);
        wire.Run(new StripValue(1, StripPart.Fader, 5000));
        wire.Thinner.Take([new StripValue(1, StripPart.Fader, 6000), new StripValue(2, StripPart.Fader, 6000)]);
        Assert.True(wire.Thinner.Write(new byte[100]) > 0);
        wire.Thinner.Lost();
        Assert.False(wire.Thinner.IsWaiting);
        wire.Order.Clear();
        wire.Run(new StripValue(1, StripPart.Fader, 6000));
        Assert.Equal([1], wire.Order);
    }

    // Every fader moves at every tick, ten seconds long: far more than the wire carries.
    [Fact]
    public void A_crowded_wire_takes_no_memory()
    {
        var time = new StepTime();
        var thinner = new MidiThinner(new StripAddresses(Wide, DeskEnd.Engineer), Wide, time);
        var packet = new byte[1472];
        var values = new StripValue[96];
        Ticks(10);
        var before = GC.GetAllocatedBytesForCurrentThread();
        Ticks(500);
        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        Assert.InRange(thinner.PeakBytes, 3000, MidiWire.BytesPerSecond);
        Assert.True(thinner.Behind.Controls > 0);

        void Ticks(int count)
        {
            for (var tick = 0; tick < count; tick++)
            {
                for (var i = 0; i < values.Length; i++) values[i] = new StripValue(i + 1, StripPart.Fader, ((tick * 97) + (i * 331)) % 16384);
                thinner.Take(values);
                while (thinner.Write(packet) > 0) thinner.Sent();
                time.Step(Tick);
            }
        }
    }
}
