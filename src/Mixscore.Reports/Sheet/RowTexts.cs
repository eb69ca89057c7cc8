using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>The moves of one source in one stretch, laid out under its lane: each under the beat on which it begins.</summary>
internal sealed class RowTexts
{
    private const double Gap = 7;

    private RowTexts(IReadOnlyList<(string Text, double X, int Line)> texts, int lines, bool isSilent) => (Texts, Lines, IsSilent) = (texts, lines, isSilent);

    internal IReadOnlyList<(string Text, double X, int Line)> Texts { get; }

    internal int Lines { get; }

    /// <summary>Whether the fader is off from the beginning of the stretch to its end.</summary>
    internal bool IsSilent { get; }

    internal static RowTexts Of(SheetFrame frame, BarStretch stretch, Timeline timeline, SheetRow row, Canvas measure)
    {
        var shelves = new Shelves(frame.LaneLeft, frame.Right, Gap);
        var texts = new List<(string, double, int)>();
        foreach (var move in row.Moves)
        {
            if (move.From >= stretch.To || move.To <= stretch.From) continue;
            // A move that began on an earlier page goes on here; only where it begins does it count as one.
            var text = stretch.Holds(move.From) ? move.Text : $"… {SheetMove.Gain(move.End)} by {SheetMove.BarAndBeat(timeline, move.To)}";
            var (line, x) = shelves.Place(stretch.X(move.From), measure.Width(text, SheetFrame.Move));
            texts.Add((text, x, line));
        }
        return new RowTexts(texts, shelves.Count, texts.Count == 0 && row.Fitted.Ride.At(stretch.From.ToDouble()) is null);
    }
}
