using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Something that a plan says once and two versions say differently.</summary>
/// <param name="Of">What it is said of: a source, a site, or the plan.</param>
/// <param name="What">What is said, as the plan's key has it.</param>
/// <param name="Was">In the earlier version; empty where it said nothing.</param>
/// <param name="Becomes">In the later version; empty where it says nothing.</param>
public sealed record SettingChange(string Of, string What, string Was, string Becomes);

/// <summary>A mark that one version has and the other has not, or that says something else in each.</summary>
/// <param name="Source">The source.</param>
/// <param name="At">Its position or range, as the version writes it that has it; the later one where both have.</param>
/// <param name="Was">What it said; <c>null</c> for one that is new.</param>
/// <param name="Becomes">What it says; <c>null</c> for one that is gone.</param>
public sealed record MarkChange(string Source, string At, string? Was, string? Becomes);

/// <summary>A stretch of the piece.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends; later.</param>
/// <param name="Letter">The rehearsal letter that it lies behind, such as <c>C</c> or <c>C+4</c>; <c>null</c> before the first.</param>
/// <param name="Start">Where it begins, from the start of the piece.</param>
/// <param name="End">Where it ends, from the start of the piece.</param>
public sealed record ComparedStretch(Position From, Position To, string? Letter, Quarters Start, Quarters End)
{
    internal static ComparedStretch Of(Timeline timeline, Quarters from, Quarters to) =>
        new(timeline.PositionAt(from), timeline.PositionAt(to), LetterAt(timeline, from), from, to);

    private static string? LetterAt(Timeline timeline, Quarters place)
    {
        var bar = timeline.BarAt(place).Index;
        var before = timeline.Letters.Where(letter => letter.Bar <= bar).ToArray();
        if (before.Length == 0) return null;
        var last = before.MaxBy(letter => letter.Bar);
        return bar == last.Bar ? last.Name : $"{last.Name}+{bar - last.Bar}";
    }
}

/// <summary>A stretch over which marks ask for something else than they did; offsets, which raise all of a source's levels, are told apart.</summary>
/// <param name="Source">The source.</param>
/// <param name="Stretch">Where, in the later version.</param>
/// <param name="Was">What was asked, as the plan's language writes it.</param>
/// <param name="Becomes">What is asked.</param>
/// <param name="By">How much higher, on average, LU; <c>null</c> where one of the two is no number.</param>
public sealed record LevelChange(string Source, ComparedStretch Stretch, string Was, string Becomes, Decibels? By);

/// <summary>A stretch over which faders stand apart by more than a tolerance.</summary>
/// <param name="Source">The source.</param>
/// <param name="Stretch">Where.</param>
/// <param name="By">How much higher the later one is, on average; <c>null</c> where one of the two is off all along.</param>
/// <param name="Most">Where they are farthest apart, by how much; <c>null</c> where one of the two is off.</param>
/// <param name="Was">Where the earlier one stands on average; <c>null</c> for off.</param>
/// <param name="Becomes">Where the later one stands on average; <c>null</c> for off.</param>
public sealed record GainChange(string Source, ComparedStretch Stretch, Decibels? By, Decibels? Most, Decibels? Was, Decibels? Becomes);
