namespace Mixscore.Score;

/// <summary>
/// Finds where in a tempo file the score begins. Many programs fill an upbeat up to a whole bar, with silence before it;
/// the first notes tell, and where there are none to tell, a file that is longer than the score by no more than the filling.
/// </summary>
internal static class TempoStart
{
    /// <summary>The place in the file, from its start; negative where the score begins earlier than the file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="bars">The bars of the score as played.</param>
    /// <param name="firstNote">Where the score's first note begins; <c>null</c> where it has none.</param>
    /// <param name="notices">Takes what was found.</param>
    internal static Quarters Find(TempoFile file, IReadOnlyList<PlayedBar> bars, Quarters? firstNote, Notices notices)
    {
        if (file.Begin is { } said) return said;
        var filling = Lack(bars[0]) - Lack(file.Timeline.Bars[0]);
        if (filling == Quarters.Zero || !(NotesSay(file, firstNote, filling) || LengthSays(file, bars[^1].End, filling))) return Quarters.Zero;
        var name = Path.GetFileName(file.File);
        notices.Warn("MX084", 0, "", filling > Quarters.Zero
                ? $"the tempo file {name} fills the upbeat up: {filling} quarters before the score begins; its tempo is taken from there on"
                : $"the score begins {Quarters.Zero - filling} quarters before the tempo file {name}, which has no rests before its upbeat; its tempo is laid behind them",
            "say where in the file the score begins, if that is not meant: begin, such as 1");
        return filling;
    }

    /// <summary>What a first bar lacks of its meter.</summary>
    private static Quarters Lack(PlayedBar bar) => Quarters.Max(Quarters.Zero, bar.Meter.Length - bar.Length);

    private static bool NotesSay(TempoFile file, Quarters? firstNote, Quarters filling)
    {
        if (firstNote is not { } ours || file.FirstNote is not { } theirs) return false;
        var late = (theirs - ours).ToDouble();
        return Math.Abs(late - filling.ToDouble()) < Math.Abs(late);
    }

    private static bool LengthSays(TempoFile file, Quarters end, Quarters filling) =>
        file.Timeline.End > end && file.Timeline.End <= end + filling;
}
