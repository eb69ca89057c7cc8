using Mixscore.Planning;
using NAudio.Midi;

namespace Mixscore.Desk;

/// <summary>
/// The click as a Standard MIDI File of format 1 that begins with the count-in: tempo, meters and letters in the first
/// track, the strokes in the second, as percussion on channel 10.
/// </summary>
public static class ClickMidi
{
    // General MIDI 1, percussion key map: 76 high wood block, 77 low wood block, 37 side stick.
    private const int HighBlock = 76, LowBlock = 77, SideStick = 37, PercussionChannel = 10;

    /// <summary>The file.</summary>
    /// <param name="times">The click.</param>
    /// <param name="title">The title of the piece; may be empty.</param>
    /// <param name="notes">What the file cannot say, in words.</param>
    public static byte[] Of(ClickTimes times, string title, out IReadOnlyList<string> notes)
    {
        var led = times.CountIn.Led;
        var tempo = FileTempo.Of(led);
        var unsaid = new List<string>();
        var conductor = ConductorTrack.Of(title, led, tempo, unsaid);
        var length = tempo.TicksPerQuarter / 16;
        List<MidiEvent> strokes = [ConductorTrack.Text("click", MetaEventType.SequenceTrackName, 0)];
        foreach (var stroke in times.Strokes)
        {
            var tick = tempo.TickOf(stroke.Led);
            var (key, velocity) = stroke.Kind switch
            {
                ClickKind.Accent => (HighBlock, 120),
                ClickKind.Beat => (LowBlock, 100),
                _ => (SideStick, 70),
            };
            strokes.Add(new NoteEvent(tick, PercussionChannel, MidiCommandCode.NoteOn, key, velocity));
            strokes.Add(new NoteEvent(tick + length, PercussionChannel, MidiCommandCode.NoteOff, key, 0));
        }
        notes = unsaid;
        return ConductorTrack.File(tempo.TicksPerQuarter, [conductor, ConductorTrack.Closed(strokes, tempo.TickOf(led.End))]);
    }
}
