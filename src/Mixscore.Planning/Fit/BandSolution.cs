namespace Mixscore.Planning;

/// <summary>The ride that <see cref="BandFit"/> found.</summary>
/// <param name="Knots">Its vertices in order.</param>
/// <param name="Widened">Where the samples' bands had to be widened, by place; empty where all could be kept.</param>
/// <param name="Low">For each sample the lower end of its band after widening.</param>
/// <param name="High">For each sample the upper end of its band after widening.</param>
internal sealed record BandSolution(IReadOnlyList<Knot> Knots, IReadOnlyList<Widening> Widened, double[] Low, double[] High);

/// <summary>A vertex: the beat's index from 0, and the gain in dB, <c>null</c> where the fader is off.</summary>
internal readonly record struct Knot(int Beat, double? Gain);

/// <summary>A stretch of samples whose bands had to be widened.</summary>
/// <param name="First">Index of its first sample.</param>
/// <param name="Last">Index of its last sample.</param>
/// <param name="By">The most that a sample in it was widened by, in dB, above 0.</param>
/// <param name="Because">Why.</param>
/// <param name="Move">For <see cref="Because.TooFast"/>: the move that the bands ask for, in dB, above 0; 0 otherwise.</param>
/// <param name="MoveFrom">Where that move would begin, in quarters.</param>
/// <param name="MoveTo">Where it would have to be done, in quarters.</param>
internal readonly record struct Widening(int First, int Last, double By, Because Because, double Move, double MoveFrom, double MoveTo);
