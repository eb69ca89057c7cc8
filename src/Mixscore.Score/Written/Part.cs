namespace Mixscore.Score;

/// <summary>One part of the score.</summary>
public sealed record Part
{
    /// <summary>The identity that the file gives it, such as <c>P1</c>.</summary>
    public required string Id { get; init; }

    /// <summary>Its printed name; empty where it has none.</summary>
    public required string Name { get; init; }

    /// <summary>Notes in order of their start; the tied ones still apart.</summary>
    public IReadOnlyList<WrittenNote> Notes { get; init; } = [];

    /// <summary>Dynamic marks in order.</summary>
    public IReadOnlyList<DynamicMark> Dynamics { get; init; } = [];

    /// <summary>Hairpins in order of their start.</summary>
    public IReadOnlyList<Hairpin> Hairpins { get; init; } = [];
}

/// <summary>A note as written.</summary>
/// <param name="Start">Where it begins.</param>
/// <param name="Length">How long it is written; zero for a grace note.</param>
/// <param name="Pitch">The sounding MIDI key, 60 being middle C; <c>null</c> where the note has no pitch.</param>
/// <param name="Tied">Whether it goes on from the note before (the end of a tie).</param>
/// <param name="Syllable">The sung syllable that begins here; <c>null</c> where there is none.</param>
public sealed record WrittenNote(WrittenPlace Start, Quarters Length, int? Pitch, bool Tied = false, string? Syllable = null);

/// <summary>A dynamic mark as printed.</summary>
/// <param name="At">Where it stands.</param>
/// <param name="Text">Its letters, such as <c>mf</c>, <c>sfz</c>.</param>
public sealed record DynamicMark(WrittenPlace At, string Text);

/// <summary>A crescendo or diminuendo.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it stops.</param>
/// <param name="Grows">Whether it is a crescendo.</param>
/// <param name="Niente">Whether it comes from, or goes to, nothing.</param>
public sealed record Hairpin(WrittenPlace From, WrittenPlace To, bool Grows, bool Niente = false);
