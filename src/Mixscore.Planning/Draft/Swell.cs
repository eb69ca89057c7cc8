using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A hairpin, or words such as cresc. up to where their dashes stop, the next dynamic, or the next swell.</summary>
internal sealed record Swell(Quarters From, Quarters To, bool Grows, bool Niente)
{
    /// <summary>How many bars words without dashes or a dynamic after them reach, their own included. Our own figure, to be set by ear.</summary>
    private const int MostBars = 4;

    /// <summary>The swells of a part in order.</summary>
    /// <param name="part">The part as played.</param>
    /// <param name="levels">Where dynamics stand, in order.</param>
    /// <param name="timeline">The bars as played.</param>
    internal static IEnumerable<Swell> Of(PerformedPart part, IReadOnlyList<Quarters> levels, Timeline timeline)
    {
        var words = part.Words.Where(words => words.Change is LoudnessChange.Grows or LoudnessChange.Falls).ToList();
        var starts = part.Hairpins.Select(hairpin => hairpin.From).Concat(words.Select(words => words.At)).Order().ToList();
        return part.Hairpins.Select(hairpin => new Swell(hairpin.From, Quarters.Min(hairpin.To, timeline.End), hairpin.Grows, hairpin.Niente))
            .Concat(words.Select(OfWords))
            .Where(swell => swell.To > swell.From).OrderBy(swell => swell.From).ThenBy(swell => swell.To);

        Swell OfWords(PerformedWords words)
        {
            var last = timeline.Bars[Math.Min(words.Bar + MostBars - 1, timeline.Bars.Count) - 1].End;
            var to = words.To ?? levels.Where(at => at > words.At).Select(at => (Quarters?)at).FirstOrDefault() ?? last;
            var next = starts.Where(at => at > words.At).Select(at => (Quarters?)at).FirstOrDefault() ?? to;
            return new Swell(words.At, Quarters.Min(Quarters.Min(to, next), timeline.End), words.Change == LoudnessChange.Grows,
                words.Words.Contains("niente", StringComparison.OrdinalIgnoreCase));
        }
    }
}
