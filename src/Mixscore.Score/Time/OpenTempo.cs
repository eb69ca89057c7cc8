namespace Mixscore.Score;

/// <summary>
/// A place where the score leaves the tempo open: a fermata, or words such as <c>rit.</c>. Nothing changes there unless the
/// plan says so; the entry is what a plan would say for a usual length.
/// </summary>
/// <param name="At">Where it stands, on its first pass.</param>
/// <param name="Words">The words as printed, or <c>fermata</c>.</param>
/// <param name="Entry">An entry for the plan's <c>tempo:</c>, such as <c>12:3: 96 > 77 by 14</c>. The figures are our own: see <see cref="UsualTempo"/>.</param>
public sealed record OpenTempo(Position At, string Words, string Entry);
