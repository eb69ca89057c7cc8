using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Where the click was found in a recording.</summary>
/// <param name="Start">When the piece begins in the recording (not its count-in); below 0 where the recorder was started after it.</param>
/// <param name="Drift">How much faster than the click the recorder's clock counts, in parts per million; below 0 for slower.</param>
/// <param name="Heard">How many clicks were heard.</param>
/// <param name="Expected">How many lie within the recording.</param>
public sealed record ClickFound(Seconds Start, double Drift, int Heard, int Expected);
