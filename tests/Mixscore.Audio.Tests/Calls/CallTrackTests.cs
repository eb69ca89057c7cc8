using CsCheck;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Calls;

public sealed class CallTrackTests
{
    private static readonly CallSettings English = new();

    // The law, over any tempo and any voice: no word is heard in the 20 ms before a bar line, none begins before the one before it has ended.
    [Fact]
    public void Every_word_ends_before_its_bar_line() =>
        Gen.Select(Gen.Double[40, 240], Gen.Double[40, 240], Gen.Double[0.1, 1.5], Gen.Int[1, 3]).Sample((first, second, length, paces) =>
        {
            using var folder = new Folder();
            var timeline = Piece.Of(6, new TempoPiece(Quarters.Zero, first, second), new TempoPiece(new Quarters(14), second));
            var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 1 });
            var track = CallTrack.Of(click, CallScript.Of(click, timeline, English, CallChoice.EveryBar, []), new TestVoice(part => length * (0.5 + 0.1 * part.Text.Length), paces));
            track.Write(folder["call.wav"]);
            var samples = Sound.Read(folder["call.wav"]);
            foreach (var bar in click.CountIn.Led.Bars.Skip(1))
            {
                var line = (int)(click.CountIn.Led.Tempo.SecondsAt(bar.Start).Value * ClickTrack.SampleRate);
                Assert.All(samples[(line - ClickTrack.SampleRate / 50)..line], sample => Assert.Equal(0f, sample));
            }
            Assert.All(track.Words.Zip(track.Words.Skip(1)), pair => Assert.True(pair.First.To < pair.Second.From));
            Assert.Equal(4 + 5, track.Words.Count + track.LeftOut.Count);
        }, iter: 40);

    [Fact]
    public void What_has_no_time_is_said_shorter_then_quicker_then_left_out()
    {
        // Bars of 2 s, one beat 0.5 s.
        var timeline = new Timeline(Piece.Of(3).Bars, [new PlayedLetter("A", 2)], new TempoMap([new TempoPiece(Quarters.Zero, 120)]));
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 0 });
        string Said(double letter, double number, int paces) => string.Join(" | ", CallTrack.Of(click, CallScript.Of(click, timeline, English, CallChoice.EveryBar, []),
            new TestVoice(part => part.Key == "letter-A" ? letter : number, paces)).Words.Select(word => word.Text));
        Assert.Equal("letter A, 2 | 3", Said(0.8, 0.8, 1));
        Assert.Equal("letter A | 3", Said(1.5, 1.5, 2));
        Assert.Equal("letter A | 3", Said(3, 3, 2));
        Assert.Equal("letter A | 3", Said(1.5, 0.8, 1));
        Assert.Equal("2 | 3", Said(5, 0.8, 1));
        Assert.Equal("", Said(5, 5, 1));
    }

    [Fact]
    public void What_the_voice_cannot_say_is_named_and_not_counted_as_left_out()
    {
        var timeline = Piece.Of(4);
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 0 });
        var track = CallTrack.Of(click, CallScript.Of(click, timeline, English, CallChoice.EveryBar, []), new TestVoice(part => part.Key == "3" ? null : 0.3));
        Assert.Equal(["3"], track.Missing);
        Assert.Equal(["2", "4"], track.Words.Select(word => word.Text));
        Assert.Empty(track.LeftOut);
    }

    [Fact]
    public void Recordings_are_found_by_their_names()
    {
        using var folder = new Folder();
        Sound.Write(folder["2.wav"], [.. new float[4800], .. Sound.Tone(500, 0.5, 0.25), .. new float[9600]], 48000);
        var voice = new RecordedVoice(Path.GetDirectoryName(folder["2.wav"])!, new Place("p.mix.yaml"));
        var word = voice.Say(new CallPart("2", "2"), 0);
        Assert.NotNull(word);
        Assert.InRange(word.Length, 0.24 * 48000, 0.251 * 48000);   // the silence around it is gone
        Assert.Null(voice.Say(new CallPart("3", "3"), 0));
        Assert.Null(voice.Say(new CallPart("letter-/", "letter /"), 0));
    }
}
