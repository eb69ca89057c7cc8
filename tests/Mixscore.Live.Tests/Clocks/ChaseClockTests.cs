using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Clocks;

/// <summary>A clock from outside, as MIDI timecode gives it: quarter frames at 25 frames a second come each 10 ms.</summary>
public class ChaseClockTests
{
    // Eight quarter frames make a label: 80 ms. The run must be on it within 150 ms of the first.
    [Fact]
    public void It_is_on_the_code_within_150_ms()
    {
        var (clock, sender) = (Following(), new Sender(start: 10));
        Assert.Equal(ClockState.Waiting, clock.Read(TimeSpan.Zero).State);
        sender.Run(clock, 0, 0.15);
        AssertAt(10.15, clock, 0.15, within: 0.002);
        Assert.Equal(ClockState.Running, clock.Read(Ms(150)).State);
    }

    [Fact]
    public void It_carries_on_for_two_seconds_and_then_holds()
    {
        var (clock, sender) = (Following(), new Sender(start: 0));
        sender.Run(clock, 0, 3);
        AssertAt(4.9, clock, 4.9, 0.005);
        Assert.Equal(ClockState.Carrying, clock.Read(Ms(4900)).State);
        Assert.Equal(ClockState.Held, clock.Read(Ms(5100)).State);
        AssertAt(5, clock, 9, 0.02);
        // Code again: on it at once.
        sender.Run(clock, 9, 9.15);
        AssertAt(9.15, clock, 9.15, 0.005);
    }

    [Theory]
    [InlineData(1.005), InlineData(0.995), InlineData(1.0), InlineData(0.5), InlineData(2.0)]
    public void Its_rate_is_found(double rate)
    {
        var (clock, sender) = (Following(), new Sender(start: 0, rate));
        sender.Run(clock, 0, 5);
        var reading = clock.Read(Ms(5000));
        Assert.Equal(rate, reading.Rate, 0.001);
        Assert.Equal(5 * rate, reading.At.Value, 0.005);
        // A tape at half or twice its speed is first taken for one that jumps.
        if (Math.Abs(rate - 1) < 0.1) Assert.Equal(0, reading.Relocations);
    }

    [Fact]
    public void Jitter_is_smoothed_and_measured()
    {
        var (clock, sender) = (Following(), new Sender(start: 0, jitter: 0.02));
        sender.Run(clock, 0, 5);
        var reading = clock.Read(Ms(5000));
        Assert.Equal(5, reading.At.Value, 0.02);
        Assert.InRange(reading.Jitter.Value, 0.003, 0.012);   // even over 20 ms: 5.8 ms about its mean
    }

    [Theory, InlineData(40), InlineData(-7), InlineData(0.5), InlineData(-0.5)]
    public void A_jump_is_followed_within_150_ms(double by)
    {
        var (clock, sender) = (Following(), new Sender(start: 20));
        sender.Run(clock, 0, 2);
        sender.Jump(by);
        sender.Run(clock, 2, 2.15);
        AssertAt(22.15 + by, clock, 2.15, 0.02);
        Assert.Equal(1, clock.Read(Ms(2150)).Relocations);
    }

    // A single label out of place, between right ones, moves nothing.
    [Fact]
    public void A_bad_frame_is_not_believed()
    {
        var clock = Following();
        for (var i = 0; i < 200; i++)
        {
            var at = i == 100 ? 3000 : i * 0.02;
            clock.Take(new ClockPoint(Ms(i * 20), new Seconds(at), ClockSignal.Moving));
            AssertAt(i * 0.02, clock, i * 0.02, 1e-6);
        }
        Assert.Equal(0, clock.Read(Ms(4000)).Relocations);
    }

    [Fact]
    public void Stuttering_code_is_carried_through()
    {
        var (clock, sender) = (Following(), new Sender(start: 0));
        // 300 ms of code, 200 ms of none, over and over.
        for (var t = 0.0; t < 10; t += 0.5)
        {
            sender.Run(clock, t, t + 0.3);
            sender.Skip();
            AssertAt(t + 0.5, clock, t + 0.5, 0.01);
        }
        Assert.Equal(0, clock.Read(Ms(10_000)).Relocations);
    }

    [Fact]
    public void A_full_frame_places_it_and_backwards_it_stands()
    {
        var (clock, points) = (Following(), new TimecodePoints());
        var full = new byte[TimecodeFullFrame.Bytes];
        TimecodeFullFrame.Write(full, new Timecode(TimecodeRate.Frames25, 0, 1, 0, 0));
        clock.Take(points.Take(default, full.AsSpan(1, full.Length - 2), Ms(0))!.Value);
        var reading = clock.Read(Ms(500));
        Assert.Equal((60.0, ClockState.Stopped), (reading.At.Value, reading.State));
    }

    [Fact]
    public void MIDI_clock_is_laid_on_the_plans_tempo()
    {
        var tempo = new TempoMap([new TempoPiece(Quarters.Zero, 120), new TempoPiece(new Quarters(8), 60)]);
        var (clock, points) = (Following(), new MidiClockPoints(tempo));
        Take(MidiMessage.Start, 0);
        Assert.Equal(ClockState.Stopped, clock.Read(Ms(0)).State);
        // Two bars at 120, then at 60: 24 clocks a quarter.
        for (var i = 0; i <= 8 * 24; i++) Take(MidiMessage.Clock, i / 48.0);
        for (var i = 1; i <= 2 * 24; i++) Take(MidiMessage.Clock, 4 + (i / 24.0));
        AssertAt(6, clock, 6, 0.01);
        Take(MidiMessage.Stop, 6.01);
        Assert.Equal(ClockState.Stopped, clock.Read(Ms(7000)).State);
        Take(MidiMessage.SongPosition(new Midi14(16)), 7);
        AssertAt(2, clock, 7, 1e-6);
        Take(MidiMessage.Continue, 8);
        Take(MidiMessage.Clock, 8.1);
        Take(MidiMessage.Clock, 8.1 + (1 / 48.0));
        AssertAt(2 + (1 / 48.0), clock, 8.1 + (1 / 48.0), 1e-3);

        void Take(MidiMessage message, double seconds)
        {
            if (points.Take(message, [], TimeSpan.FromSeconds(seconds)) is { } point) clock.Take(point);
        }
    }

    [Fact]
    public void The_beginning_may_stand_at_any_label()
    {
        var zero = new Timecode(TimecodeRate.Frames25, 1, 0, 0, 0);
        var points = new TimecodePoints(zero);
        var full = new byte[TimecodeFullFrame.Bytes];
        TimecodeFullFrame.Write(full, new Timecode(TimecodeRate.Frames25, 0, 59, 58, 0));
        Assert.Equal(-2, points.Take(default, full.AsSpan(1, full.Length - 2), Ms(0))!.Value.At.Value, 9);
        Assert.Equal(3600, TimecodePoints.After(null, zero, 0).Value, 9);
        // Round midnight.
        Assert.Equal(1, TimecodePoints.After(new Timecode(TimecodeRate.Frames25, 23, 59, 59, 0), default, 0).Value, 9);
    }

    // A piece of 276 s whose tape begins at hour 1, or at 0.
    [Theory]
    [InlineData(0, 0, 10, 10), InlineData(1, 0, 10, 10), InlineData(0, 59, 50, -10), InlineData(10, 4, 36, 276), InlineData(0, 4, 0, 240)]
    public void Without_a_label_for_it_the_beginning_is_an_hour(int hours, int minutes, int seconds, double at) =>
        Assert.Equal(at, TimecodePoints.After(null, new Timecode(TimecodeRate.Frames25, hours, minutes, seconds, 0), 0, new Seconds(276)).Value, 9);

    private static ChaseClock Following()
    {
        var clock = new ChaseClock();
        clock.Start(Seconds.Zero, Seconds.Zero, TimeSpan.Zero);
        return clock;
    }

    private static TimeSpan Ms(double milliseconds) => TimeSpan.FromMilliseconds(milliseconds);

    private static void AssertAt(double wanted, ChaseClock clock, double seconds, double within) => Assert.Equal(wanted, clock.Read(TimeSpan.FromSeconds(seconds)).At.Value, within);

    /// <summary>Sends quarter frames of 25 frames a second, a hundred a second, as real time passes.</summary>
    private sealed class Sender(double start, double rate = 1, double jitter = 0)
    {
        private readonly TimecodePoints _points = new();
        private readonly Random _chance = new(3);
        private double _start = start;
        private long? _next;

        internal void Jump(double by) => (_start, _next) = (_start + by, null);

        internal void Skip() => _next = null;

        internal void Run(ChaseClock clock, double from, double to)
        {
            // A label is sent whole, from its first quarter frame.
            var quarter = _next ?? (long)Math.Ceiling(((_start + (rate * from)) * 100 / 8) - 1e-6) * 8;
            for (double due; (due = ((quarter / 100.0) - _start) / rate) <= to + 1e-9; quarter++)
            {
                var late = jitter * _chance.NextDouble();
                if (_points.Take(TimecodeQuarterFrame.At(TimecodeRate.Frames25, quarter), [], TimeSpan.FromSeconds(due + late)) is { } point) clock.Take(point);
            }
            _next = quarter;
        }
    }
}
