namespace Mixscore.Planning;

/// <summary>One thing to say: what a voice is asked for.</summary>
/// <param name="Key">The name of its recording, without an ending: <c>17</c>, <c>letter-C</c>, <c>time-2</c>, <c>rest-4</c>.</param>
/// <param name="Text">What a machine's voice speaks.</param>
public readonly record struct CallPart(string Key, string Text);
