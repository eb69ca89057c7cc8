using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Where a clock is at an instant.</summary>
/// <param name="At">Seconds into the score; negative during a count-in.</param>
/// <param name="State">How sure it is.</param>
/// <param name="Rate">Seconds of score in a second; 1 for a clock that is exact.</param>
/// <param name="Jitter">How far what comes lies from where it was awaited, root mean square of late.</param>
/// <param name="Relocations">How often it has jumped so far.</param>
public readonly record struct ClockReading(Seconds At, ClockState State, double Rate, Seconds Jitter, int Relocations);
