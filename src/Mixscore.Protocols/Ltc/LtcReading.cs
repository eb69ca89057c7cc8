using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Ltc;

/// <summary>A frame of linear timecode that has been heard whole.</summary>
/// <param name="Label">The frame's label.</param>
/// <param name="From">Where its first edge lay, in samples since the reader was made.</param>
/// <param name="To">Where the edge lay that ended it: when running forwards, the beginning of the next label.</param>
/// <param name="IsBackwards">True when the tape runs backwards.</param>
public readonly record struct LtcReading(Timecode Label, double From, double To, bool IsBackwards);
