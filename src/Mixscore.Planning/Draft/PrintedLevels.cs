using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The levels that marks, words and the file's own loudness for playing set at once, by their places.</summary>
internal static class PrintedLevels
{
    /// <summary>Where several marks stand at one place (two staves), the loudest counts; what is printed wins over what is only played.</summary>
    internal static SortedDictionary<Quarters, string> Of(PerformedPart part, Timeline timeline, DynamicsTable table, out int touches)
    {
        var levels = new SortedDictionary<Quarters, string>();
        touches = 0;
        var words = part.Words.Select(words => (words.At, words.Words)).ToHashSet();
        foreach (var mark in part.Dynamics.Where(mark => !words.Contains((mark.At, mark.Text))))
            if ((DynamicWord.Holds(mark.Text, table) ?? DynamicWord.Named(mark.Text, table)) is { } level) Add(mark.At, level);
            else if (IsAccent(mark.Text)) touches++;
            else if (mark.Percent is { } percent && DynamicWord.Nearest(percent, table) is { } played) Add(mark.At, played);
            else touches++;
        foreach (var said in part.Words.Where(said => said.Change == LoudnessChange.Level))
            if (DynamicWord.Named(said.Words, table) is { } level) Add(said.At, level);
        foreach (var sound in part.SoundLevels)
            if (DynamicWord.Nearest(sound.Percent, table) is { } played && sound.At < timeline.End) levels.TryAdd(sound.At, played);
        return levels;

        void Add(Quarters at, string level)
        {
            if (at >= timeline.End) return;
            if (!levels.TryGetValue(at, out var other) || DynamicWord.Loudness(level, table) > DynamicWord.Loudness(other, table)) levels[at] = level;
        }
    }

    /// <summary>sf, sfz, fz, rf and their kin: the file's loudness is that of one note.</summary>
    private static bool IsAccent(string text) => text.Length > 0 && text.Trim().TrimEnd('.').ToLowerInvariant().All(c => c is 's' or 'f' or 'z' or 'r');
}
