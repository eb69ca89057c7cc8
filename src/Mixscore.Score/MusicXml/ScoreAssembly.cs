namespace Mixscore.Score;

/// <summary>Makes the score of what the parts said: lengths, meters, movements, endings, signs and tempi in their places.</summary>
internal static class ScoreAssembly
{
    internal static WrittenScore Assemble(ScoreDraft draft, ScoreHead head, IReadOnlyList<PartReader> readers, string file)
    {
        if (draft.Bars.Count == 0)
            throw new InputException(new Fault("MX006", new Place(file), "the score has no bars", "export the score again; at least one part needs a bar"));
        BarSplitter.Split(draft, readers);
        var labels = draft.Bars.ConvertAll(bar => bar.Label);
        var movements = Movements.Of(labels);
        var endings = EndingBrackets.Of(draft, movements);
        var meters = BarMeters.Of(draft);
        var bars = new List<WrittenBar>(draft.Bars.Count);
        foreach (var bar in draft.Bars)
        {
            var meter = meters[bar.Number - 1];
            var ending = endings[bar.Number - 1];
            bars.Add(new WrittenBar
            {
                Number = bar.Number,
                Label = bar.Label,
                Line = bar.Line,
                Movement = movements[bar.Number - 1],
                Meter = meter,
                Length = LengthOf(bar, meter, bars, draft.Notices),
                RepeatStarts = bar.RepeatStarts,
                Plays = bar.Plays,
                RepeatsAfterJump = bar.RepeatsAfterJump,
                EndingPasses = ending.Passes,
                EndingStarts = ending.Starts,
                EndingStops = ending.Stops,
            });
        }
        PlaceSigns(draft, bars);
        SayWherePartsDisagree(draft, readers, bars);
        var score = new WrittenScore
        {
            File = file,
            Title = head.Title,
            Bars = bars,
            Parts = PartsOf(readers, head, draft.Notices),
            Groups = head.Groups,
            Tempo = TempoMarks.Of(draft, bars),
            Letters = [.. draft.Letters.OrderBy(letter => letter.Bar)],
            Fermatas = [.. draft.Fermatas],
            GradualTempo = [.. draft.GradualTempo.OrderBy(words => words.At)],
            Warnings = draft.Notices.Warnings,
        };
        Countable.Require(score);
        return score;
    }

    private static Quarters LengthOf(BarDraft bar, Meter meter, List<WrittenBar> before, Notices notices)
    {
        if (bar.Length > Quarters.Zero)
        {
            if (meter.Beats.Count > 0 && bar.Length > meter.Length)
                notices.Warn("MX050", bar.Line, bar.Label, "the bar is longer than its meter; it is played as long as its fullest part");
            return bar.Length;
        }
        if (meter.Beats.Count > 0) return meter.Length;
        notices.Warn("MX051", bar.Line, bar.Label, "the bar is empty and has no meter; it lasts as long as the bar before it, or four quarters");
        return before.Count > 0 ? before[^1].Length : new Quarters(4);
    }

    /// <summary>A target that stands at the very end of a bar is the start of the next one.</summary>
    private static void PlaceSigns(ScoreDraft draft, List<WrittenBar> bars)
    {
        var byBar = new List<Jump>[bars.Count];
        foreach (var bar in draft.Bars)
            foreach (var (jump, at) in bar.Jumps)
            {
                var isTarget = jump.Kind is JumpKind.Segno or JumpKind.Coda;
                var isNext = isTarget && at > Quarters.Zero && at >= bars[bar.Number - 1].Length && bar.Number < bars.Count;
                (byBar[bar.Number - 1 + (isNext ? 1 : 0)] ??= []).Add(jump with { StoodBefore = isNext });
            }
        for (var i = 0; i < bars.Count; i++)
        {
            if (byBar[i] is not { } jumps) continue;
            // A coda sign beside "To Coda" is the sign to leave at, not the coda.
            if (jumps.Exists(jump => jump.Kind == JumpKind.ToCoda)) jumps.RemoveAll(jump => jump is { Kind: JumpKind.Coda, WordsOnly: true });
            bars[i] = bars[i] with { Jumps = jumps };
        }
    }

    private static void SayWherePartsDisagree(ScoreDraft draft, IReadOnlyList<PartReader> readers, List<WrittenBar> bars)
    {
        foreach (var reader in readers)
        {
            if (reader.Bars < bars.Count)
                draft.Notices.Warn("MX052", 0, bars[reader.Bars].Label, $"part {reader.Id} has {reader.Bars} bars of {bars.Count}; it rests from here on");
            for (var i = 0; i < reader.Bars; i++)
                if (reader.Lengths[i] > Quarters.Zero && reader.Lengths[i] < bars[i].Length && bars[i].Length != bars[i].Meter.Length)
                    draft.Notices.Warn("MX053", bars[i].Line, bars[i].Label, "the parts disagree on the bar's length; it is played as long as its fullest part");
        }
    }

    private static List<Part> PartsOf(IReadOnlyList<PartReader> readers, ScoreHead head, Notices notices)
    {
        foreach (var listed in head.Listed.Where(listed => readers.All(reader => reader.Id != listed)))
            notices.Warn("MX054", 0, "", $"part {listed} is listed but has no music");
        return
        [
            .. readers.Select(reader => new Part
            {
                Id = reader.Id,
                Name = reader.Name,
                Staves = reader.Staves,
                Notes = [.. reader.Notes.OrderBy(note => note.Start)],
                Dynamics = [.. reader.Dynamics.OrderBy(mark => mark.At)],
                Hairpins = [.. reader.Hairpins.OrderBy(hairpin => hairpin.From)],
                DynamicWords = [.. reader.DynamicWords.OrderBy(words => words.At)],
                SoundLevels = [.. reader.SoundLevels.OrderBy(level => level.At)],
            }),
        ];
    }
}
