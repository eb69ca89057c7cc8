using System.Globalization;

namespace Mixscore.Score;

/// <summary>What a timeline is made with, beside the score.</summary>
public sealed record TimelineOptions
{
    /// <summary>Whether repeats are taken.</summary>
    public bool WithRepeats { get; init; } = true;

    /// <summary>Tempi that the plan says; inside their ranges they win over the score's.</summary>
    public IReadOnlyList<TempoOverride> Tempo { get; init; } = [];

    /// <summary>A file whose tempo takes the place of the score's over the piece as played; <c>null</c> for the score's own.</summary>
    public TempoFile? PlayedTempo { get; init; }
}

/// <summary>A timeline with all that is to be said about it.</summary>
/// <param name="Timeline">The bars as played.</param>
/// <param name="Order">The order of playing.</param>
/// <param name="Warnings">About the order, the tempo after jumps, and fermatas and words whose length nobody has said.</param>
/// <param name="Problems">Overrides that could not be applied; the timeline is made without them.</param>
/// <param name="Open">Where the score leaves the tempo open and nobody has said more, in played order; empty where the tempo comes from a file.</param>
public sealed record BuiltTimeline(
    Timeline Timeline,
    PlayOrder Order,
    IReadOnlyList<Fault> Warnings,
    IReadOnlyList<OverrideProblem> Problems,
    IReadOnlyList<OpenTempo> Open);

/// <summary>Makes the timeline of a score.</summary>
public static class TimelineBuilder
{
    /// <summary>The tempo until the first mark, in quarters a minute. Source: Standard MIDI Files 1.0, tempo default; taken for all scores.</summary>
    public const double DefaultTempo = 120;

    /// <summary>
    /// Unfolds a score and lays its tempi over the bars as played. The tempo is what the score has written at the place
    /// being played, so after a jump it is the one written before the place that is jumped to; where that differs from the
    /// tempo that was going, a warning says so.
    /// </summary>
    /// <param name="score">At least one bar.</param>
    /// <param name="options">Repeats and tempi; <c>null</c> for none.</param>
    public static BuiltTimeline Build(WrittenScore score, TimelineOptions? options = null)
    {
        options ??= new TimelineOptions();
        var notices = new Notices(score.File);
        var order = PlayOrder.Unfold(score, options.WithRepeats);
        var bars = PlayedBars(score, order);
        var letters = Letters(score, bars);
        var end = bars[^1].End;
        var marks = options.PlayedTempo is null ? WrittenMarks(score, bars, notices) : [];
        var line = options.PlayedTempo is { } given ? Laid(given, score, bars, notices) : new TempoLine(marks, end);
        var plain = new Timeline(bars, letters, line.ToMap());
        var overrides = new TempoOverrides(plain, marks.ConvertAll(mark => mark.At));
        var problems = overrides.Apply(options.Tempo, line);
        var timeline = options.Tempo.Count > 0 ? new Timeline(bars, letters, line.ToMap()) : plain;
        var open = options.PlayedTempo is null ? new OpenPlaces(score, timeline, overrides, notices).Find() : [];
        return new BuiltTimeline(timeline, order, [.. order.Warnings, .. notices.Warnings], problems, open);
    }

    /// <summary>A tempo file laid along the bars. It may end with its last sound and not with the last bar; anything more says that its bars are others.</summary>
    private static TempoLine Laid(TempoFile file, WrittenScore score, List<PlayedBar> bars, Notices notices)
    {
        var end = bars[^1].End;
        var untimed = new Timeline(bars, [], new TempoMap([new TempoPiece(Quarters.Zero, DefaultTempo)]));
        var begin = TempoStart.Find(file, bars, Performance.Of(score, untimed).FirstNote, notices);
        var difference = file.Timeline.End - begin - end;
        if (difference > Quarters.Zero || difference < Quarters.Zero - score.Bars[^1].Length)
            notices.Warn("MX083", 0, "", $"the tempo file {Path.GetFileName(file.File)} lasts {file.Timeline.End - begin} quarters and the score as played {end}; its tempo is laid from the start",
                "look whether both play the same repeats, and say where in the file the score begins: begin, such as 3 behind two bars of count-in");
        return new TempoLine(file.Timeline.Tempo, begin, end);
    }

    private static List<PlayedBar> PlayedBars(WrittenScore score, PlayOrder order)
    {
        var bars = new List<PlayedBar>(order.Steps.Count);
        var start = Quarters.Zero;
        foreach (var step in order.Steps)
        {
            var written = score.Bars[step.Bar - 1];
            bars.Add(new PlayedBar
            {
                Index = bars.Count + 1,
                Label = written.Label,
                Written = step.Bar,
                Pass = step.Pass,
                Movement = written.Movement,
                Meter = written.Meter,
                Start = start,
                Length = written.Length,
                Beats = PlayedBar.BeatsOf(start, written.Length, written.Meter),
            });
            start += written.Length;
        }
        return bars;
    }

    private static List<PlayedLetter> Letters(WrittenScore score, List<PlayedBar> bars)
    {
        var byBar = score.Letters.ToLookup(letter => letter.Bar);
        return [.. bars.Where(bar => bar.Pass == 1).SelectMany(bar => byBar[bar.Written].Select(letter => new PlayedLetter(letter.Name, bar.Index)))];
    }

    private static List<(Quarters At, double Tempo)> WrittenMarks(WrittenScore score, List<PlayedBar> bars, Notices notices)
    {
        var marks = new List<(Quarters At, double Tempo)>();
        var going = DefaultTempo;
        for (var k = 0; k < bars.Count; k++)
        {
            var bar = bars[k];
            var next = FirstIn(score.Tempo, bar.Written);
            var isMarked = next < score.Tempo.Count && score.Tempo[next].At is { } at && at.Bar == bar.Written && at.Offset == Quarters.Zero;
            if (!isMarked)
            {
                var written = next > 0 ? score.Tempo[next - 1].QuartersPerMinute : DefaultTempo;
                if (k == 0 || written != going) marks.Add((bar.Start, written));
                if (k > 0 && written != going)
                    notices.Warn("MX080", score.Bars[bar.Written - 1].Line, BarNames.Of(score.Bars, bar.Written - 1) + (bar.Pass > 1 ? $"@{bar.Pass}" : ""),
                        string.Create(CultureInfo.InvariantCulture, $"after the jump to this bar the tempo is {written:0.##} quarters a minute as written there, not {going:0.##} as it was going"),
                        "say the tempo in the plan's tempo: if another is meant");
                going = written;
            }
            for (; next < score.Tempo.Count && score.Tempo[next].At.Bar == bar.Written; next++)
                if (score.Tempo[next].At.Offset < bar.Length)
                {
                    going = score.Tempo[next].QuartersPerMinute;
                    marks.Add((bar.Start + score.Tempo[next].At.Offset, going));
                }
        }
        return marks;
    }

    /// <summary>The first mark that stands in a bar or behind it.</summary>
    private static int FirstIn(IReadOnlyList<WrittenTempo> tempi, int bar)
    {
        int low = 0, high = tempi.Count;
        while (low < high)
        {
            var middle = (low + high) / 2;
            if (tempi[middle].At.Bar < bar) low = middle + 1;
            else high = middle;
        }
        return low;
    }
}
