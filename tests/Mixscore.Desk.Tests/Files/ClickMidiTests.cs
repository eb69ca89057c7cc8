using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Files;

public sealed class ClickMidiTests
{
    // Standard MIDI Files 1.0; read by a reader of our own. The file begins with the count-in, as click.wav does.
    [Fact]
    public void Strokes_sound_when_the_click_does()
    {
        var timeline = Pieces.Of(new TempoMap([new TempoPiece(Quarters.Zero, 96, 60), new TempoPiece(new Quarters(12), 60), new TempoPiece(new Quarters(15), 20), new TempoPiece(new Quarters(16), 72)]), (4, Meter.Common), (3, Meter.Simple(6, 8)));
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 1, CountInTempo = 90 });
        var file = LittleSmf.Read(ClickMidi.Of(click, "Piece", out var notes));
        Assert.Empty(notes);
        var struck = file.Tracks[1].Where(e => e.Status == 0x99 && e.Data[1] > 0).ToArray();
        Assert.Equal(click.Strokes.Count, struck.Length);
        for (var i = 0; i < struck.Length; i++)
        {
            Assert.Equal((click.Lead + click.Strokes[i].Time).Value, file.SecondsAt(struck[i].Tick), 0.001);
            Assert.Equal(click.Strokes[i].Kind == ClickKind.Accent ? 76 : click.Strokes[i].Kind == ClickKind.Beat ? 77 : 37, struck[i].Data[0]);
        }
    }
}
