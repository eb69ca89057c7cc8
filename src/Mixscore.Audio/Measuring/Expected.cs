using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Where the score lets a source play.</summary>
internal static class Expected
{
    /// <summary>The part that a source names, by its id or its name, or its staff alone; <c>null</c> where it names none that there is.</summary>
    internal static PerformedPart? PartOf(Source source, Performance performance)
    {
        if (source.Part is not { } named) return null;
        var part = performance.Parts.FirstOrDefault(part => part.Id == named) ?? performance.Parts.FirstOrDefault(part => part.Name == named)
            ?? performance.Parts.FirstOrDefault(part => part.Name.Equals(named, StringComparison.OrdinalIgnoreCase));
        return source.Staff is { } staff ? part?.OnStaff(staff) : part;
    }

    /// <summary>Stretches in the stem's time, in order; <c>null</c> where nothing is known.</summary>
    internal static IReadOnlyList<Stretch>? Of(SourceStem stem, Timeline timeline, Performance? performance)
    {
        if (performance is null || PartOf(stem.Source, performance) is not { Notes.Count: > 0 } part) return null;
        return Stretch.Joined(part.Notes.Select(note => new Stretch(timeline.Tempo.SecondsAt(note.Start) + stem.Delay, timeline.Tempo.SecondsAt(note.End) + stem.Delay)), Activity.Bridge);
    }
}
