namespace Mixscore.Protocols.Midi;

/// <summary>A value put together by a <see cref="MidiAssembler"/>.</summary>
/// <param name="Target">What it is the value of.</param>
/// <param name="Channel">The channel.</param>
/// <param name="Number">Controller 0 to 127, or parameter 0 to 16,383; 0 for pitch bend.</param>
/// <param name="Value">The value; a target of 7 bits has it in <see cref="Midi14.High"/>.</param>
/// <param name="AwaitsLow">True when the high byte has just come, so that the low byte, taken as 0, may still follow.</param>
public readonly record struct MidiValue(MidiTarget Target, MidiChannel Channel, int Number, Midi14 Value, bool AwaitsLow);
