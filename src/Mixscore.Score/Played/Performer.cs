namespace Mixscore.Score;

/// <summary>Lays one part along the bars as played.</summary>
internal static class Performer
{
    internal static PerformedPart Play(Part part, Timeline timeline)
    {
        var runs = Runs(timeline);
        return new PerformedPart
        {
            Id = part.Id,
            Name = part.Name,
            Notes = Notes(part.Notes, timeline),
            Dynamics =
            [
                .. Each(part.Dynamics, mark => mark.At.Bar, timeline)
                    .Select(played => new PerformedMark(played.Bar.Start + played.Item.At.Offset, played.Item.Text, played.Bar.Index, played.Bar.Pass, played.Item.Staff, played.Item.Percent)),
            ],
            Hairpins =
            [
                .. runs.SelectMany(run => part.Hairpins.Select(hairpin => Cut(hairpin, run)).OfType<PerformedHairpin>()),
            ],
            SoundLevels =
            [
                .. Each(part.SoundLevels, level => level.At.Bar, timeline).Select(played => new PerformedLevel(played.Bar.Start + played.Item.At.Offset, played.Item.Percent, played.Item.Staff)),
            ],
            Words =
            [
                .. Each(part.DynamicWords, words => words.At.Bar, timeline).Select(played => Words(played.Item, played.Bar, runs)),
            ],
        };
    }

    /// <summary>A stretch of played bars that follow one another in the file.</summary>
    private sealed class Run(PlayedBar first)
    {
        internal List<PlayedBar> Bars { get; } = [first];

        internal PlayedBar First => Bars[0];

        internal PlayedBar Last => Bars[^1];

        /// <summary>A written place within the run, from the start of the piece; places outside go to the run's ends.</summary>
        internal Quarters Place(WrittenPlace at) =>
            at.Bar < First.Written ? First.Start
            : at.Bar > Last.Written ? Last.End
            : Bars[at.Bar - First.Written] is var bar ? bar.Start + Quarters.Min(at.Offset, bar.Length) : default;
    }

    private static List<Run> Runs(Timeline timeline)
    {
        var runs = new List<Run>();
        foreach (var bar in timeline.Bars)
            if (runs.Count > 0 && runs[^1].Last.Written + 1 == bar.Written) runs[^1].Bars.Add(bar);
            else runs.Add(new Run(bar));
        return runs;
    }

    /// <summary>Things that stand in bars, each time their bar is played.</summary>
    private static IEnumerable<(T Item, PlayedBar Bar)> Each<T>(IReadOnlyList<T> items, Func<T, int> barOf, Timeline timeline)
    {
        var byBar = items.ToLookup(barOf);
        return timeline.Bars.SelectMany(bar => byBar[bar.Written].Select(item => (item, bar)));
    }

    private static PerformedHairpin? Cut(Hairpin hairpin, Run run)
    {
        if (hairpin.To.Bar < run.First.Written || hairpin.From.Bar > run.Last.Written) return null;
        var (from, to) = (run.Place(hairpin.From), run.Place(hairpin.To));
        var isCut = hairpin.From.Bar < run.First.Written || hairpin.To.Bar > run.Last.Written;
        return isCut && from == to ? null : new PerformedHairpin(from, to, hairpin.Grows, hairpin.Niente, hairpin.Staff, isCut);
    }

    private static PerformedWords Words(DynamicWords words, PlayedBar bar, List<Run> runs)
    {
        Quarters? to = null;
        if (words.To is { } end) to = runs[RunOf(runs, bar)].Place(end);
        return new PerformedWords(bar.Start + words.At.Offset, words.Words, words.Change, to, bar.Index, bar.Pass, words.Staff);
    }

    private static int RunOf(List<Run> runs, PlayedBar bar)
    {
        int low = 0, high = runs.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (runs[middle].First.Index <= bar.Index) low = middle;
            else high = middle - 1;
        }
        return low;
    }

    private static List<PerformedNote> Notes(IReadOnlyList<WrittenNote> written, Timeline timeline)
    {
        var notes = new List<PerformedNote>();
        var sounding = new Dictionary<int, List<int>>();   // by pitch, those that a tie may lengthen
        foreach (var (note, bar) in Each(written, note => note.Start.Bar, timeline))
        {
            if (note.Length == Quarters.Zero || (note.Passes is { } passes && !passes.Contains(bar.Pass))) continue;
            var start = bar.Start + note.Start.Offset;
            if (!sounding.TryGetValue(note.Pitch ?? -1, out var same)) sounding[note.Pitch ?? -1] = same = [];
            var tied = note.Tied ? same.FindIndex(i => notes[i].End == start) : -1;
            if (tied >= 0)
            {
                var i = same[tied];
                notes[i] = notes[i] with { Length = notes[i].Length + note.Length };
                continue;
            }
            same.RemoveAll(i => notes[i].End < start);
            same.Add(notes.Count);
            notes.Add(new PerformedNote(start, note.Length, note.Pitch, note.Syllable, note.Staff));
        }
        return notes;
    }
}
