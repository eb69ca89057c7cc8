using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>What stood on a source in a night, as stretches of a plot: hands, offsets, and where its feed was gone.</summary>
internal static class HandStretches
{
    internal static IEnumerable<PlotStretch> Of(NightRecord night, string source, Timeline timeline)
    {
        foreach (var stretch in Joined(night.Hands.Sources.FirstOrDefault(one => one.Source == source)?.Stretches ?? []))
            yield return new PlotStretch(stretch.Kind switch { HandKind.Offset => "offsetband", HandKind.HeldWithAll => "heldband", HandKind.FeedGone => "drop", _ => "inhand" },
                stretch.From, stretch.To, $"{PlaceWords.Beat(timeline, stretch.From)} to {PlaceWords.Beat(timeline, stretch.To)}: {NightWords.Kind(stretch.Kind)}");
        foreach (var gone in night.Events.Where(one => one.Source == source && one.Kind == NightEventKind.FeedGone))
            yield return new PlotStretch("drop", gone.From, gone.To, $"{PlaceWords.Beat(timeline, gone.From)} to {PlaceWords.Beat(timeline, gone.To)}: {gone.Text}");
    }

    /// <summary>A hand that moved is one hand.</summary>
    internal static IEnumerable<(HandKind Kind, double From, double To)> Joined(IReadOnlyList<HandStretch> stretches)
    {
        (HandKind Kind, double From, double To)? open = null;
        foreach (var stretch in stretches)
        {
            if (open is { } before && before.Kind == stretch.Kind && stretch.From - before.To < 1e-6) open = before with { To = stretch.To };
            else
            {
                if (open is { } done) yield return done;
                open = (stretch.Kind, stretch.From, stretch.To);
            }
        }
        if (open is { } last) yield return last;
    }
}
