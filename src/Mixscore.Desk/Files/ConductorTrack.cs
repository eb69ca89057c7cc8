using System.Globalization;
using System.Text;
using Mixscore.Score;
using NAudio.Midi;

namespace Mixscore.Desk;

/// <summary>The first track of a Standard MIDI File: title, tempo, meters, and a marker for each rehearsal letter on each pass.</summary>
internal static class ConductorTrack
{
    /// <summary>The events of the track, in order, its end included.</summary>
    /// <param name="title">The title; may be empty.</param>
    /// <param name="timeline">The piece.</param>
    /// <param name="tempo">Its tempo map.</param>
    /// <param name="notes">Where to put what the file cannot say.</param>
    public static List<MidiEvent> Of(string title, Timeline timeline, FileTempo tempo, List<string> notes)
    {
        var events = new List<(long Tick, int Rank, MidiEvent Event)> { (0, 0, Text(title, MetaEventType.SequenceTrackName, 0)) };
        foreach (var (tick, microseconds) in tempo.Changes) events.Add((tick, 1, new TempoEvent(microseconds, tick)));
        FileMeter? current = null;
        foreach (var bar in timeline.Bars)
        {
            var meter = FileMeter.Of(bar, out var note);
            if (meter == current) continue;
            current = meter;
            if (note is not null) notes.Add(note);
            var tick = tempo.TickOf(bar.Start);
            events.Add((tick, 2, new TimeSignatureEvent(tick, meter.Beats, meter.Power, meter.ClocksAClick, 8)));
        }
        foreach (var (place, name) in Markers(timeline))
        {
            var tick = tempo.TickOf(place);
            events.Add((tick, 3, Text(name, MetaEventType.Marker, tick)));
        }
        if (tempo.TooSlow is { } slow)
            notes.Add($"{timeline.PositionAt(slow)}: the tempo is slower than a Standard MIDI File can say (3.6 quarters a minute); its bars drift from there");
        return Closed([.. events.OrderBy(one => one.Tick).ThenBy(one => one.Rank).Select(one => one.Event)], tempo.TickOf(timeline.End));
    }

    /// <summary>A text as UTF-8.</summary>
    public static TextEvent Text(string text, MetaEventType type, long tick) => new("", type, tick) { Data = Encoding.UTF8.GetBytes(text) };

    /// <summary>A track with its end, at a tick or after its last event.</summary>
    public static List<MidiEvent> Closed(List<MidiEvent> events, long end)
    {
        events.Add(new MetaEvent(MetaEventType.EndTrack, 0, Math.Max(end, events.Count > 0 ? events[^1].AbsoluteTime : 0)));
        return events;
    }

    /// <summary>A whole file of format 1.</summary>
    public static byte[] File(int ticksPerQuarter, IEnumerable<List<MidiEvent>> tracks)
    {
        var collection = new MidiEventCollection(1, ticksPerQuarter);
        foreach (var track in tracks) collection.AddTrack(track);
        using var stream = new MemoryStream();
        MidiFile.Export(stream, collection);
        return stream.ToArray();
    }

    private static IEnumerable<(Quarters Place, string Name)> Markers(Timeline timeline)
    {
        foreach (var letter in timeline.Letters)
        {
            var written = timeline.Bars[letter.Bar - 1].Written;
            var times = 0;
            foreach (var bar in timeline.Bars.Where(bar => bar.Written == written))
                yield return (bar.Start, ++times == 1 ? letter.Name : $"{letter.Name} ({Ordinal(times)})");
        }
    }

    private static string Ordinal(int number) => number.ToString(CultureInfo.InvariantCulture) + (number % 100 is >= 11 and <= 13 ? "th" : (number % 10) switch
    {
        1 => "st",
        2 => "nd",
        3 => "rd",
        _ => "th",
    });
}
