using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>How two versions of a plan differ, in tables and sentences.</summary>
public static class PlanWords
{
    /// <summary>What is said once and differently.</summary>
    public static WordTable Settings(PlanComparison comparison) =>
        new(["Of", "What", "Was", "Becomes"], [.. comparison.Settings.Select(change => (string[])[change.Of, change.What, Or(change.Was), Or(change.Becomes)])]);

    /// <summary>Where marks ask for something else.</summary>
    public static WordTable Levels(PlanComparison comparison) =>
        new(["Source", "From", "To", "Letter", "Was", "Becomes", "Higher by"],
            [.. comparison.Levels.Select(change => (string[])[change.Source, .. PlaceWords.Cells(change.Stretch), change.Was, change.Becomes, PlaceWords.Signed(change.By, "LU")])]);

    /// <summary>The marks as they are written.</summary>
    public static WordTable Marks(PlanComparison comparison) =>
        new(["Source", "At", "Was", "Becomes"], [.. comparison.Marks.Select(change => (string[])[change.Source, change.At, change.Was ?? "not there", change.Becomes ?? "gone"])]);

    /// <summary>Where faders stand apart.</summary>
    public static WordTable Gains(IReadOnlyList<GainChange> changes) =>
        new(["Source", "From", "To", "Letter", "Was", "Becomes", "Higher by", "At most"],
            [.. changes.Select(change => (string[])[change.Source, .. PlaceWords.Cells(change.Stretch), PlaceWords.Gain(change.Was), PlaceWords.Gain(change.Becomes), PlaceWords.Signed(change.By, "dB"), PlaceWords.Signed(change.Most, "dB")])]);

    /// <summary>In a sentence or two.</summary>
    public static IReadOnlyList<string> Summary(PlanComparison comparison)
    {
        if (comparison.IsSame) return [comparison.Rides is null ? "The two say the same; their rides are not known." : "The two say the same."];
        var (set, gone, changed) = (comparison.Marks.Count(mark => mark.Was is null), comparison.Marks.Count(mark => mark.Becomes is null), comparison.Marks.Count(mark => mark is { Was: not null, Becomes: not null }));
        var sentences = new List<string> { $"Marks: {set} new, {gone} gone, {changed} changed; something else is asked in {Stretches(comparison.Levels.Count)}." };
        if (comparison.Settings.Count > 0) sentences.Add($"Settings: {comparison.Settings.Count} changed.");
        sentences.Add(comparison.Rides is not { } rides ? "The rides are not known."
            : rides.Count == 0 ? "The rides stay where they were." : $"Rides: elsewhere in {Stretches(rides.Count)} of {string.Join(", ", rides.Select(ride => ride.Source).Distinct())}.");
        return sentences;
    }

    internal static string Stretches(int count) => count == 1 ? "1 stretch" : $"{count} stretches";

    private static string Or(string text) => text.Length > 0 ? text : PlaceWords.None;
}
