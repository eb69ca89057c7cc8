namespace Mixscore.Desk;

/// <summary>A stretch of a ride in which the fader is open and goes one way, within the law's gains.</summary>
/// <param name="From">Where it begins, in seconds on the wire.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Start">Gain in dB at its beginning.</param>
/// <param name="End">Gain in dB at its end.</param>
/// <param name="Opens">Whether the fader is off until the stretch begins, that instant included.</param>
/// <param name="Closes">Whether the fader is off where the stretch ends.</param>
internal readonly record struct Leg(double From, double To, double Start, double End, bool Opens, bool Closes);
