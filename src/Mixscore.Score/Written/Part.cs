namespace Mixscore.Score;

/// <summary>One part of the score.</summary>
public sealed record Part
{
    /// <summary>The identity that the file gives it, such as <c>P1</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Its printed name; empty where it has none.</summary>
    public required string Name { get; init; }

    /// <summary>How many staves it has, 1 or more.</summary>
    public int Staves { get; init; } = 1;

    /// <summary>Notes in order of their start; the tied ones still apart.</summary>
    public IReadOnlyList<WrittenNote> Notes { get; init; } = [];

    /// <summary>Dynamic marks in order.</summary>
    public IReadOnlyList<DynamicMark> Dynamics { get; init; } = [];

    /// <summary>Hairpins in order of their start.</summary>
    public IReadOnlyList<Hairpin> Hairpins { get; init; } = [];

    /// <summary>Words that speak of loudness (cresc., dim., più f), in order.</summary>
    public IReadOnlyList<DynamicWords> DynamicWords { get; init; } = [];

    /// <summary>Loudness that the file gives for playing where nothing is printed, in order.</summary>
    public IReadOnlyList<SoundLevel> SoundLevels { get; init; } = [];
}

/// <summary>Parts that belong together, such as the strings, or the three feeds of a site.</summary>
/// <param name="Name">As printed; empty where the group has no name.</param>
/// <param name="Parts">The identities of its parts, in the order of the score; at least one.</param>
public sealed record PartGroup(string Name, IReadOnlyList<string> Parts);

/// <summary>A note as written.</summary>
/// <param name="Start">Where it begins.</param>
/// <param name="Length">How long it is written; zero for a grace note.</param>
/// <param name="Pitch">The sounding MIDI key, 60 being middle C; <c>null</c> where the note has no pitch.</param>
/// <param name="Tied">Whether it goes on from the note before (the end of a tie).</param>
/// <param name="Syllable">The sung syllable that begins here; <c>null</c> where there is none.</param>
/// <param name="Passes">The passes of its bar on which it is played, from <c>time-only</c>; <c>null</c> for all.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record WrittenNote(
    WrittenPlace Start,
    Quarters Length,
    int? Pitch,
    bool Tied = false,
    string? Syllable = null,
    IReadOnlyList<int>? Passes = null,
    int Staff = 1);

/// <summary>A dynamic mark as printed.</summary>
/// <param name="At">Where it stands.</param>
/// <param name="Text">Its letters, such as <c>mf</c>, <c>sfz</c>.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
/// <param name="Percent">The loudness that the file gives for playing, in percent of its own forte; <c>null</c> where it gives none.</param>
public sealed record DynamicMark(WrittenPlace At, string Text, int Staff = 1, double? Percent = null);

/// <summary>A crescendo or diminuendo.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it stops.</param>
/// <param name="Grows">Whether it is a crescendo.</param>
/// <param name="Niente">Whether it comes from, or goes to, nothing.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record Hairpin(WrittenPlace From, WrittenPlace To, bool Grows, bool Niente = false, int Staff = 1);

/// <summary>Words that speak of loudness.</summary>
/// <param name="At">Where they stand.</param>
/// <param name="Words">As printed.</param>
/// <param name="Change">What they ask for.</param>
/// <param name="To">Where the dashes after them stop; <c>null</c> where there are none.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record DynamicWords(WrittenPlace At, string Words, LoudnessChange Change, WrittenPlace? To = null, int Staff = 1);

/// <summary>A loudness that the file gives for playing, without a printed mark.</summary>
/// <param name="At">Where it stands.</param>
/// <param name="Percent">In percent of the file's own forte, 0 or more.</param>
/// <param name="Staff">The staff of the part, from 1 at the top.</param>
public sealed record SoundLevel(WrittenPlace At, double Percent, int Staff = 1);

/// <summary>What words ask of the loudness.</summary>
public enum LoudnessChange
{
    /// <summary>Ever louder (cresc.).</summary>
    Grows,

    /// <summary>Ever softer (dim., decresc.).</summary>
    Falls,

    /// <summary>One step louder at once (più f).</summary>
    Louder,

    /// <summary>One step softer at once (meno f, più p).</summary>
    Softer,

    /// <summary>A level in words (sempre pp, subito f).</summary>
    Level,
}
