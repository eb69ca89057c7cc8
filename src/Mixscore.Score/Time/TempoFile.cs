namespace Mixscore.Score;

/// <summary>
/// The tempo of a piece taken from another file than its score: the click that the players hear may come from there.
/// </summary>
/// <param name="File">The file, as the user named it.</param>
/// <param name="Timeline">Its bars and tempo as played.</param>
/// <param name="FirstNote">Where its first note begins; <c>null</c> where it has none.</param>
public sealed record TempoFile(string File, Timeline Timeline, Quarters? FirstNote)
{
    /// <summary>Where in the file the score begins, where someone has said so; <c>null</c> to find it.</summary>
    public Quarters? Begin { get; private init; }

    /// <summary>Takes the tempo of a Standard MIDI File, or of any score as it is played.</summary>
    /// <exception cref="InputException">The file is no score, or counts seconds and not quarters.</exception>
    /// <exception cref="IOException">The file is not there or cannot be read.</exception>
    public static TempoFile Read(string path) => Of(ScoreFile.Read(path));

    /// <summary>Takes the tempo of a score as it is played.</summary>
    /// <exception cref="InputException">The score counts seconds and not quarters.</exception>
    public static TempoFile Of(WrittenScore score)
    {
        if (score.CountsSeconds)
            throw new InputException(new Fault("MX024", new Place(score.File), "the file counts seconds and not quarters, so it holds no tempo for the bars of a score", "export it with ticks a quarter note"));
        var timeline = TimelineBuilder.Build(score).Timeline;
        return new TempoFile(score.File, timeline, Performance.Of(score, timeline).FirstNote);
    }

    /// <summary>The same file with the place in it where the score begins, such as <c>3</c> behind two bars of count-in.</summary>
    /// <param name="position">A position in the file.</param>
    /// <param name="problem">Why there is no such place, in words; <c>null</c> where there is.</param>
    /// <returns><c>null</c> where there is no such place.</returns>
    public TempoFile? BeginningAt(Position position, out string? problem)
    {
        if (!Timeline.TryResolve(position, out var place, out problem)) return null;
        if (place < Timeline.End) return this with { Begin = place };
        problem = "nothing comes after the end of the file";
        return null;
    }
}
