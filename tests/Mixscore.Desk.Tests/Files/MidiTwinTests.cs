using Mixscore.Score;
using NAudio.Midi;

namespace Mixscore.Desk.Tests.Files;

public class MidiTwinTests
{
    //  written |: 1  c' d' | 2  e'~~~~ :|      played 1 2 1 2, at 90 quarters a minute; C over bar 2; a second part without pitch
    [Fact]
    public void Every_note_sounds_on_every_pass_at_its_place()
    {
        var bars = new List<WrittenBar>
        {
            new() { Number = 1, Label = "1", Meter = Meter.Simple(2, 4), Length = new Quarters(2), RepeatStarts = true },
            new() { Number = 2, Label = "2", Meter = Meter.Simple(2, 4), Length = new Quarters(2), Plays = 2 },
        };
        static WrittenPlace At(int bar, long quarter) => new(bar, new Quarters(quarter));
        var score = new WrittenScore
        {
            Title = "Fähre",
            Bars = bars,
            Parts =
            [
                new Part
                {
                    Id = "P1",
                    Name = "Horn",
                    Notes = [new(At(1, 0), new Quarters(1), 60), new(At(1, 1), new Quarters(1), 62), new(At(2, 0), new Quarters(2), 64)],
                },
                new Part { Id = "P2", Name = "", Notes = [new(At(2, 1), new Quarters(1), null)] },
            ],
        };
        PlayedBar[] played =
        [
            .. Enumerable.Range(0, 4).Select(i => Pieces.Bar(i + 1, i % 2 + 1, i / 2 + 1, Meter.Simple(2, 4), new Quarters(2 * i), new Quarters(2))),
        ];
        var timeline = new Timeline(played, [new PlayedLetter("C", 2)], Pieces.Steady(90));
        var bytes = MidiTwin.Of(score, timeline);

        using var stream = new MemoryStream(bytes);
        var file = new MidiFile(stream, strictChecking: true);
        Assert.Equal(3, file.Tracks);
        var smf = LittleSmf.Read(bytes);
        Assert.Equal(["Fähre", "Horn", "P2"], smf.Tracks.Select(track => track.First(e => e.IsMeta(0x03)).Text));
        Assert.Equal([(1920L, "C"), (5760L, "C (2nd)")], smf.Tracks[0].Where(e => e.IsMeta(0x06)).Select(e => (e.Tick, e.Text)));
        Assert.Equal(
            [(0L, 60, 960L), (960L, 62, 1920L), (1920L, 64, 3840L), (3840L, 60, 4800L), (4800L, 62, 5760L), (5760L, 64, 7680L)],
            file.Events[1].OfType<NoteOnEvent>().Select(note => (note.AbsoluteTime, note.NoteNumber, note.OffEvent!.AbsoluteTime)));
        Assert.Equal([(2880L, 10), (6720L, 10)], file.Events[2].OfType<NoteOnEvent>().Select(note => (note.AbsoluteTime, note.Channel)));
        Assert.Equal(8 * 60 / 90.0, smf.SecondsAt(smf.Tracks[0][^1].Tick), 1e-4);
    }

    // The demo's score, read from MusicXML, written as its twin and read again: the same bars, notes, letters and times.
    [Fact]
    public void The_twin_of_the_demo_score_reads_back_as_it_is_played()
    {
        var folder = new DirectoryInfo(AppContext.BaseDirectory);
        while (!File.Exists(Path.Combine(folder!.FullName, "Mixscore.sln"))) folder = folder.Parent;
        var score = ScoreFile.Read(Path.Combine(folder.FullName, "scores", "night-ferry.musicxml"));
        var timeline = TimelineBuilder.Build(score).Timeline;
        using var stream = new MemoryStream(MidiTwin.Of(score, timeline));
        var twin = ScoreFile.Read(stream, "night-ferry.mid");
        var twinTimeline = TimelineBuilder.Build(twin).Timeline;

        Assert.Equal(score.Title, twin.Title);
        Assert.Equal(timeline.Bars.Select(bar => (bar.Start, bar.Length)), twinTimeline.Bars.Select(bar => (bar.Start, bar.Length)));
        Assert.All(timeline.BeatGrid, beat => Assert.Equal(timeline.Tempo.SecondsAt(beat).Value, twinTimeline.Tempo.SecondsAt(beat).Value, 0.001));
        Assert.Equal(timeline.Letters.Select(letter => (letter.Name, letter.Bar)), twinTimeline.Letters.Where(letter => !letter.Name.Contains('(', StringComparison.Ordinal)).Select(letter => (letter.Name, letter.Bar)));

        var ours = Performance.Of(score, timeline).Parts.Where(part => part.Notes.Count > 0).ToList();
        var theirs = Performance.Of(twin, twinTimeline).Parts;
        Assert.Equal(ours.Select(part => part.Name), theirs.Select(part => part.Name));
        foreach (var (mine, read) in ours.Zip(theirs))
            Assert.Equal(mine.Notes.Select(note => (note.Start.ToDouble(), note.Pitch ?? 37)).Distinct().Order(), read.Notes.Select(note => (note.Start.ToDouble(), note.Pitch!.Value)).Order());
    }
}
