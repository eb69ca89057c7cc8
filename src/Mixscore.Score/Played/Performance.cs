namespace Mixscore.Score;

/// <summary>What the parts play, in the order in which they play it.</summary>
/// <param name="Parts">In the order of the score.</param>
public sealed record Performance(IReadOnlyList<PerformedPart> Parts)
{
    /// <summary>Lays the parts of a score along its timeline.</summary>
    /// <param name="score">The score that the timeline was made of.</param>
    /// <param name="timeline">Its bars as played.</param>
    /// <exception cref="ArgumentException">The timeline plays bars that the score does not have.</exception>
    public static Performance Of(WrittenScore score, Timeline timeline)
    {
        if (timeline.Bars.Any(bar => bar.Written > score.Bars.Count)) throw new ArgumentException("the timeline is of another score", nameof(timeline));
        return new Performance([.. score.Parts.Select(part => Performer.Play(part, timeline))]);
    }

    /// <summary>Where the first note of all begins; <c>null</c> where there is none.</summary>
    public Quarters? FirstNote => Parts.Where(part => part.Notes.Count > 0).Select(part => (Quarters?)part.Notes[0].Start).Min();
}

/// <summary>What one part plays.</summary>
public sealed record PerformedPart
{
    /// <summary>The identity that the file gives it, such as <c>P1</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Its printed name; empty where it has none.</summary>
    public required string Name { get; init; }

    /// <summary>Notes in order of their start; tied ones are one, grace notes are left out.</summary>
    public required IReadOnlyList<PerformedNote> Notes { get; init; }

    /// <summary>Dynamic marks in played order, on every pass.</summary>
    public required IReadOnlyList<PerformedMark> Dynamics { get; init; }

    /// <summary>Hairpins in order of their start, on every pass; cut where a jump cuts them.</summary>
    public required IReadOnlyList<PerformedHairpin> Hairpins { get; init; }

    /// <summary>Words that speak of loudness in played order, on every pass.</summary>
    public required IReadOnlyList<PerformedWords> Words { get; init; }

    /// <summary>Loudness given for playing where nothing is printed, in played order, on every pass.</summary>
    public IReadOnlyList<PerformedLevel> SoundLevels { get; init; } = [];

    /// <summary>
    /// One staff of the part. What is said of loudness on that staff counts; where nothing is, all that the part says, since
    /// dynamics between two staves are written to one of them and mean both.
    /// </summary>
    /// <param name="staff">From 1 at the top.</param>
    public PerformedPart OnStaff(int staff)
    {
        var isSaid = Dynamics.Any(mark => mark.Staff == staff) || Hairpins.Any(hairpin => hairpin.Staff == staff) || Words.Any(words => words.Staff == staff)
            || SoundLevels.Any(level => level.Staff == staff);
        return this with
        {
            Notes = [.. Notes.Where(note => note.Staff == staff)],
            Dynamics = [.. Dynamics.Where(mark => !isSaid || mark.Staff == staff)],
            Hairpins = [.. Hairpins.Where(hairpin => !isSaid || hairpin.Staff == staff)],
            Words = [.. Words.Where(words => !isSaid || words.Staff == staff)],
            SoundLevels = [.. SoundLevels.Where(level => !isSaid || level.Staff == staff)],
        };
    }
}

/// <summary>A note as played.</summary>
/// <param name="Start">From the start of the piece.</param>
/// <param name="Length">Above zero.</param>
/// <param name="Pitch">The sounding MIDI key, 60 being middle C; <c>null</c> where the note has no pitch.</param>
/// <param name="Syllable">The sung syllable that begins here; <c>null</c> where there is none.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public readonly record struct PerformedNote(Quarters Start, Quarters Length, int? Pitch, string? Syllable, int Staff)
{
    /// <summary>Where it ends, from the start of the piece.</summary>
    public Quarters End => Start + Length;
}

/// <summary>A dynamic mark as played.</summary>
/// <param name="At">From the start of the piece.</param>
/// <param name="Text">Its letters, such as <c>mf</c>.</param>
/// <param name="Bar">The place in the played order of its bar, from 1.</param>
/// <param name="Pass">The how-manieth time its bar is played, from 1.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
/// <param name="Percent">The loudness that the file gives for playing, in percent of its own forte; <c>null</c> where it gives none.</param>
public sealed record PerformedMark(Quarters At, string Text, int Bar, int Pass, int Staff, double? Percent);

/// <summary>A loudness given for playing without a printed mark, as played.</summary>
/// <param name="At">From the start of the piece.</param>
/// <param name="Percent">In percent of the file's own forte.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record PerformedLevel(Quarters At, double Percent, int Staff);

/// <summary>A hairpin as played.</summary>
/// <param name="From">From the start of the piece.</param>
/// <param name="To">From the start of the piece; not before <paramref name="From"/>.</param>
/// <param name="Grows">Whether it is a crescendo.</param>
/// <param name="Niente">Whether it comes from, or goes to, nothing.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
/// <param name="IsCut">Whether a jump leaves out its beginning or its end.</param>
public sealed record PerformedHairpin(Quarters From, Quarters To, bool Grows, bool Niente, int Staff, bool IsCut);

/// <summary>Words that speak of loudness, as played.</summary>
/// <param name="At">From the start of the piece.</param>
/// <param name="Words">As printed.</param>
/// <param name="Change">What they ask for.</param>
/// <param name="To">Where the dashes after them stop, from the start of the piece; <c>null</c> where there are none.</param>
/// <param name="Bar">The place in the played order of its bar, from 1.</param>
/// <param name="Pass">The how-manieth time its bar is played, from 1.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record PerformedWords(Quarters At, string Words, LoudnessChange Change, Quarters? To, int Bar, int Pass, int Staff);
