using Mixscore.Score;
using NAudio.Midi;

namespace Mixscore.Desk;

/// <summary>
/// A score as it is played, as a Standard MIDI File of format 1: title, tempo, meters and letters in the first track,
/// then a track a part with its notes, repeats written out.
/// </summary>
public static class MidiTwin
{
    /// <summary>How hard every note is struck; dynamics are the plan's matter.</summary>
    private const int Velocity = 80;

    /// <summary>The channel that General MIDI keeps for percussion; parts without pitch play there.</summary>
    private const int PercussionChannel = 10;

    /// <summary>The key of a note without pitch: a side stick (General MIDI percussion key map).</summary>
    private const int UnpitchedKey = 37;

    /// <summary>The file of a score.</summary>
    /// <param name="score">The score.</param>
    /// <param name="timeline">Its bars as played.</param>
    /// <exception cref="ArgumentException">The timeline is of another score.</exception>
    public static byte[] Of(WrittenScore score, Timeline timeline)
    {
        var tempo = FileTempo.Of(timeline);
        var end = tempo.TickOf(timeline.End);
        List<List<MidiEvent>> tracks = [ConductorTrack.Of(score.Title, timeline, tempo, [])];
        foreach (var (index, part) in Performance.Of(score, timeline).Parts.Index())
        {
            List<MidiEvent> track = [ConductorTrack.Text(part.Name.Length > 0 ? part.Name : part.Id, MetaEventType.SequenceTrackName, 0)];
            track.AddRange(Notes(part, tempo, PitchedChannel(index)));
            tracks.Add(ConductorTrack.Closed(track, end));
        }
        return ConductorTrack.File(tempo.TicksPerQuarter, tracks);
    }

    /// <summary>Channels 1 to 16 in turn, without the one for percussion.</summary>
    private static int PitchedChannel(int index) => index % 15 + 1 is var channel && channel >= PercussionChannel ? channel + 1 : channel;

    /// <summary>Ons and offs in order; where notes of one key overlap or touch, an off comes before the next on.</summary>
    private static IEnumerable<MidiEvent> Notes(PerformedPart part, FileTempo tempo, int channel)
    {
        var events = new List<(long Tick, int Rank, MidiEvent Event)>();
        foreach (var key in part.Notes.GroupBy(note => note.Pitch))
        {
            var (number, on) = key.Key is { } pitch ? (Math.Clamp(pitch, 0, 127), channel) : (UnpitchedKey, PercussionChannel);
            var starts = key.GroupBy(note => tempo.TickOf(note.Start)).Select(same => (Start: same.Key, End: same.Max(note => tempo.TickOf(note.End)))).OrderBy(note => note.Start).ToList();
            for (var i = 0; i < starts.Count; i++)
            {
                var (start, stop) = starts[i];
                if (i + 1 < starts.Count) stop = Math.Min(stop, starts[i + 1].Start);
                stop = Math.Max(stop, start + 1);
                events.Add((start, 1, new NoteEvent(start, on, MidiCommandCode.NoteOn, number, Velocity)));
                events.Add((stop, 0, new NoteEvent(stop, on, MidiCommandCode.NoteOff, number, 0)));
            }
        }
        return events.OrderBy(one => one.Tick).ThenBy(one => one.Rank).Select(one => one.Event);
    }
}
