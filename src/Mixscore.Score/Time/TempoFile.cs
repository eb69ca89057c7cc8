namespace Mixscore.Score;

/// <summary>
/// The tempo of a piece taken from another file than its score: the click that the players hear may come from there.
/// </summary>
/// <param name="File">The file, as the user named it.</param>
/// <param name="Map">Its tempo over the piece as played.</param>
/// <param name="End">Where the file ends, in quarters from the start.</param>
public sealed record TempoFile(string File, TempoMap Map, Quarters End)
{
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
        return new TempoFile(score.File, timeline.Tempo, timeline.End);
    }
}
