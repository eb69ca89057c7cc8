using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A note as a player plays it.</summary>
/// <param name="From">Seconds by the click.</param>
/// <param name="To">Seconds by the click; before the next note's beginning where the two are apart.</param>
/// <param name="Pitch">The MIDI key; 60 where the score gives none.</param>
/// <param name="Syllable">What is sung; <c>null</c> where it goes on, or where there is none.</param>
/// <param name="Scatter">How much louder than asked, dB.</param>
internal readonly record struct PlayedNote(double From, double To, int Pitch, string? Syllable, double Scatter);

/// <summary>The notes of one part, one at a time, a little early or late and louder or softer than written.</summary>
internal static class PlayedLine
{
    private const double LateSpread = 0.008, ScatterSpread = 0.9, OnTheBar = 0.8;

    /// <param name="part">What is written.</param>
    /// <param name="timeline">When it comes.</param>
    /// <param name="noise">The player.</param>
    /// <param name="isSung">Whether notes without a syllable of their own are bound to the one before.</param>
    internal static List<PlayedNote> Of(PerformedPart part, Timeline timeline, SeededNoise noise, bool isSung)
    {
        var notes = new List<PlayedNote>();
        // Of a chord the highest is played.
        var line = part.Notes.GroupBy(note => note.Start).Select(group => group.MaxBy(note => note.Pitch ?? 0)).OrderBy(note => note.Start).ToList();
        for (var i = 0; i < line.Count; i++)
        {
            var end = i + 1 < line.Count ? Quarters.Min(line[i].End, line[i + 1].Start) : line[i].End;
            var (from, to) = (timeline.Tempo.SecondsAt(line[i].Start).Value, timeline.Tempo.SecondsAt(end).Value);
            var bound = i + 1 < line.Count && line[i + 1].Start == end && isSung && line[i + 1].Syllable is null;
            if (!bound) to -= Math.Min(0.08, 0.1 * (to - from));
            var isFirst = timeline.BarAt(line[i].Start).Start == line[i].Start;
            var late = Math.Clamp(LateSpread * noise.Normal(), -0.02, 0.02);
            notes.Add(new PlayedNote(Math.Max(0, from + late), to + late, line[i].Pitch ?? 60, line[i].Syllable, ScatterSpread * noise.Normal() + (isFirst ? OnTheBar : 0)));
        }
        return notes;
    }
}
