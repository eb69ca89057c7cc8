using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Verbs;

/// <summary>The contract of <c>read --json</c>: keys are added, never renamed.</summary>
internal static class ScoreReading
{
    internal static object Of(WrittenScore score, Timeline timeline, IEnumerable<OpenTempo> open, IEnumerable<Fault> warnings) => new
    {
        title = score.Title,
        barsWritten = score.Bars.Count,
        barsPlayed = timeline.Bars.Count,
        played = timeline.Bars.Select(bar => new
        {
            index = bar.Index,
            bar = bar.Label,
            written = bar.Written,
            pass = bar.Pass,
            meter = bar.Meter.Text,
            startQuarters = bar.Start.ToString(),
            quarters = bar.Length.ToString(),
            startSeconds = JsonOut.Rounded(timeline.Tempo.SecondsAt(bar.Start).Value, 9),
            beats = bar.Beats.Select(beat => beat.ToString()),
        }),
        tempo = timeline.Tempo.Pieces.Where(piece => piece.From < timeline.End).Select(piece => Tempo(timeline, piece)),
        durationQuarters = timeline.End.ToString(),
        durationSeconds = JsonOut.Rounded(timeline.Duration.Value, 9),
        letters = timeline.Letters.Select(letter => new { name = letter.Name, bar = timeline.Bars[letter.Bar - 1].Label, index = letter.Bar }),
        parts = score.Parts.Select(part => new { id = part.Id, name = part.Name, dynamics = part.Dynamics.Count, hairpins = part.Hairpins.Count, words = part.DynamicWords.Count, notes = part.Notes.Count, staves = part.Staves }),
        groups = score.Groups.Select(group => new { name = group.Name, parts = group.Parts }),
        open = open.Select(one => new { position = one.At.ToString(), words = one.Words, entry = one.Entry }),
        warnings = warnings.Select(warning => warning.ToString()),
    };

    private static object Tempo(Timeline timeline, TempoPiece piece)
    {
        var bar = timeline.BarAt(piece.From);
        var position = timeline.PositionAt(piece.From);
        return new
        {
            bar = bar.Label,
            pass = bar.Pass,
            beat = position.Beat + position.WithinBeat.ToDouble(),
            quartersPerMinute = JsonOut.Rounded(piece.StartTempo, 6),
            endQuartersPerMinute = piece.IsConstant ? null : JsonOut.Rounded(piece.EndTempo, 6),
        };
    }
}
