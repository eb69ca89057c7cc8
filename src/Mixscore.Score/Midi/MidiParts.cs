namespace Mixscore.Score;

/// <summary>The parts of a MIDI file: tracks with notes, or the channels of the only track.</summary>
internal static class MidiParts
{
    internal static IReadOnlyList<Part> Of(MidiFile midi, Fraction quarter, MidiBars grid, Notices notices)
    {
        var parts = new List<Part>();
        for (var i = 0; i < midi.Tracks.Count; i++)
        {
            var events = midi.Tracks[i].Events;
            var name = events.Find(one => one.Kind == MidiEventKind.TrackName).Text ?? "";
            var channels = events.Where(one => one.Kind == MidiEventKind.NoteOn).Select(one => one.Channel).Distinct().Order().ToList();
            if (channels.Count == 0) continue;
            if (midi.Format == 0 && channels.Count > 1)
                parts.AddRange(channels.Select(channel => Read($"C{channel + 1}", $"channel {channel + 1}", one => one.Channel == channel)));
            else parts.Add(Read($"T{i + 1}", name, _ => true));

            Part Read(string id, string title, Func<MidiEvent, bool> mine) => new()
            {
                Id = id,
                Name = title,
                Notes = Notes(events, mine, midi.Tracks[i].End, quarter, grid, notices),
            };
        }
        return parts;
    }

    private static List<WrittenNote> Notes(List<MidiEvent> events, Func<MidiEvent, bool> mine, long end, Fraction quarter, MidiBars grid, Notices notices)
    {
        var notes = new List<(long Start, long End, int Key)>();
        var sounding = new Dictionary<(int Channel, int Key), Queue<long>>();
        foreach (var one in events)
        {
            if (one.Kind is not (MidiEventKind.NoteOn or MidiEventKind.NoteOff) || !mine(one)) continue;
            if (!sounding.TryGetValue((one.Channel, one.Value), out var starts)) sounding[(one.Channel, one.Value)] = starts = new Queue<long>();
            if (one.Kind == MidiEventKind.NoteOn) starts.Enqueue(one.Tick);
            else if (starts.TryDequeue(out var start)) notes.Add((start, one.Tick, one.Value));
        }
        foreach (var (key, starts) in sounding)
            foreach (var start in starts)
            {
                notices.Warn("MX029", 0, "", "a note has no end; it lasts to the end of its track");
                notes.Add((start, end, key.Key));
            }
        var syllables = events.Where(one => one.Kind == MidiEventKind.Lyric && one.Text.Length > 0).GroupBy(one => one.Tick).ToDictionary(group => group.Key, group => group.First().Text);
        return
        [
            .. notes.OrderBy(note => note.Start).ThenBy(note => note.Key).Select(note => new WrittenNote(
                grid.PlaceOf(new Quarters(new Fraction(note.Start) / quarter)),
                new Quarters(new Fraction(note.End - note.Start) / quarter),
                note.Key,
                Syllable: syllables.GetValueOrDefault(note.Start))),
        ];
    }
}
