using CsCheck;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Tests.Midi;

public sealed class MidiClockTests
{
    // A public description of MIDI 1.0: song position 8 is the third quarter note, 48 clocks.
    [Fact]
    public void Song_position_8_is_the_third_quarter()
    {
        Assert.Equal(48, MidiClock.Clocks(new Midi14(8)));
        Assert.Equal(2.0, MidiClock.Quarters(48));
        Assert.Equal(new Midi14(8), MidiClock.SongPosition(48));
        Assert.Equal(new Midi14(8), MidiClock.SongPosition(53));
        Assert.Equal(new Midi14(9), MidiClock.SongPosition(54));
    }

    // Derived: 24 clocks a quarter, 120 quarters a minute, 48 clocks a second.
    [Fact]
    public void At_120_a_clock_is_a_48th_of_a_second() => Assert.Equal(1.0 / 48, MidiClock.SecondsPerClock(120), 15);

    [Fact]
    public void Song_position_reaches_4096_quarters()
    {
        Assert.Equal(new Midi14(Midi14.Largest), MidiClock.SongPosition((16384 * 6) - 1));
        Assert.Null(MidiClock.SongPosition(16384 * 6));
        Assert.Null(MidiClock.SongPosition(-1));
    }

    [Fact]
    public void Song_positions_come_back() => Gen.Int[0, Midi14.Largest].Sample(value =>
        MidiClock.SongPosition(MidiClock.Clocks(new Midi14(value))) == new Midi14(value));

    // MIDI 1.0, start and continue: the first clock after them is the position itself. One letter a message:
    // a start, c continue, s stop, 8 clock, p song position 8.
    [Theory]
    [InlineData("8888", 0, false, false)]
    [InlineData("a", 0, true, false)]
    [InlineData("a8", 0, true, true)]
    [InlineData("a888", 2, true, true)]
    [InlineData("a888s", 3, false, false)]
    [InlineData("a888s88c8", 3, true, true)]
    [InlineData("pc8", 48, true, true)]
    [InlineData("pc888", 50, true, true)]
    [InlineData("a88pa8", 0, true, true)]
    [InlineData("a8888p8", 48, true, true)]
    [InlineData("as", 0, false, false)]
    [InlineData("a88c8", 2, true, true)]
    public void Clocks_are_counted_from_start_continue_and_song_position(string script, long clocks, bool running, bool moving)
    {
        var follower = new MidiClockFollower();
        foreach (var letter in script)
        {
            follower.Take(letter switch
            {
                'a' => MidiMessage.Start,
                'c' => MidiMessage.Continue,
                's' => MidiMessage.Stop,
                'p' => MidiMessage.SongPosition(new Midi14(8)),
                _ => MidiMessage.Clock,
            });
        }
        Assert.Equal((clocks, running, moving), (follower.Clocks, follower.IsRunning, follower.IsMoving));
    }

    [Fact]
    public void Other_messages_say_nothing() => Assert.False(new MidiClockFollower().Take(MidiMessage.PitchBend(default, default)));
}
