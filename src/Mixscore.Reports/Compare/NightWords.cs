using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>How two nights differ, in tables and sentences.</summary>
public static class NightWords
{
    /// <summary>The two side by side: when, where, what was taken, what went wrong.</summary>
    public static WordTable Figures(NightComparison comparison)
    {
        var nights = new[] { comparison.Before, comparison.After };
        var timeline = comparison.OnScore.Timeline;
        string[] Row(string name, Func<NightRecord, string> told) => [name, .. nights.Select(told)];
        return new WordTable(["", .. nights.Select(night => night.Name)],
        [
            Row("when", night => night.Hands.Date?.ToString("yyyy-MM-dd HH:mm", CultureInfo.InvariantCulture) ?? PlaceWords.None),
            Row("hall", night => night.Hands.Hall ?? PlaceWords.None),
            Row("what", night => night.Hands.IsRehearsal ? "rehearsal" : "performance"),
            Row("clock", night => night.Clock.Length > 0 ? night.Clock : PlaceWords.None),
            .. comparison.OnScore.Plan.Sources.Select(source => source.Name).Where(name => nights.Any(night => IsTouched(night, name, timeline)))
                .Select(name => Row(name, night => Touched(night, name, timeline))),
            Row("feeds gone", night => $"{night.FeedsGone}"),
            Row("clock held", night => $"{night.ClockHeld}"),
            Row("late ticks", night => Late(night)),
        ]);
    }

    /// <summary>Where hands or offsets had faders elsewhere.</summary>
    public static WordTable Hands(NightComparison comparison) =>
        new(["Source", "From", "To", "Letter", comparison.Before.Name, comparison.After.Name, "Higher by", "At most"],
            [.. comparison.Hands.Select(one => (string[])[one.Gains.Source, .. PlaceWords.Cells(one.Gains.Stretch), $"{Kind(one.Before)} {PlaceWords.Gain(one.Gains.Was)}", $"{Kind(one.After)} {PlaceWords.Gain(one.Gains.Becomes)}", PlaceWords.Signed(one.Gains.By, "dB"), PlaceWords.Signed(one.Gains.Most, "dB")])]);

    /// <summary>What happened beside the hands, night by night.</summary>
    public static WordTable Events(NightComparison comparison) =>
        new(["Night", "Where", "What"], [.. new[] { comparison.Before, comparison.After }.SelectMany(night => EventsOf(night, comparison.OnScore.Timeline).Select(told => (string[])[night.Name, told.Where, told.What]))]);

    /// <summary>In a sentence or two.</summary>
    public static IReadOnlyList<string> Summary(NightComparison comparison)
    {
        var sentences = new List<string>
        {
            comparison.Hands.Count == 0 ? "The hands had every fader where they had it the other night."
                : $"Hands had faders elsewhere in {PlanWords.Stretches(comparison.Hands.Count)} of {string.Join(", ", comparison.Hands.Select(one => one.Gains.Source).Distinct())}.",
        };
        if (comparison.Plans.Count > 0) sentences.Add($"The plans then in force differ in {PlanWords.Stretches(comparison.Plans.Count)} of {string.Join(", ", comparison.Plans.Select(one => one.Source).Distinct())}.");
        foreach (var (isBefore, stretch) in comparison.PlayedAlone) sentences.Add($"{stretch.From} to {stretch.To} was played in {(isBefore ? comparison.Before.Name : comparison.After.Name)} alone, and is not compared.");
        return sentences;
    }

    /// <summary>What stood on a fader, in words.</summary>
    internal static string Kind(HandKind? kind) => kind switch
    {
        HandKind.Hand => "hand",
        HandKind.Offset => "offset",
        HandKind.HeldWithAll => "held with all",
        HandKind.FeedGone => "feed gone",
        _ => "plan",
    };

    internal static string Late(NightRecord night) => night.LateTicks == 0 ? "0" : string.Create(CultureInfo.InvariantCulture, $"{night.LateTicks}, the latest by {night.LatestTick.Value * 1000:0} ms");

    internal static bool IsTouched(NightRecord night, string source, Timeline timeline) =>
        night.Taken.ContainsKey(source) || night.TimeOf(source, timeline) is not { InHand.Value: 0, WithOffset.Value: 0 } || night.Events.Any(one => one.Source == source);

    internal static string Touched(NightRecord night, string source, Timeline timeline)
    {
        var (hand, offset) = night.TimeOf(source, timeline);
        var told = new List<string>();
        if (night.Taken.TryGetValue(source, out var times)) told.Add(times == 1 ? "taken once" : $"taken {times} times");
        if (hand.Value > 0) told.Add(string.Create(CultureInfo.InvariantCulture, $"{hand.Value:0.#} s in hand"));
        if (offset.Value > 0) told.Add(string.Create(CultureInfo.InvariantCulture, $"{offset.Value:0.#} s with an offset"));
        if (night.Events.Count(one => one.Kind == NightEventKind.FeedGone && one.Source == source) is > 0 and var gone) told.Add(gone == 1 ? "gone once" : $"gone {gone} times");
        return told.Count == 0 ? "planned" : string.Join(", ", told);
    }

    internal static IEnumerable<(string Where, string What)> EventsOf(NightRecord night, Timeline timeline) => night.Events.Select(one =>
    {
        var (from, to) = (PlaceWords.Beat(timeline, one.From), PlaceWords.Beat(timeline, one.To));
        return (from == to ? from : $"{from} to {to}", one.Kind == NightEventKind.Note ? $"note: {one.Text}" : one.Text);
    });
}
