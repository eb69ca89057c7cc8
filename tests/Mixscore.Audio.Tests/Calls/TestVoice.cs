using Mixscore.Planning;

namespace Mixscore.Audio.Tests.Calls;

/// <summary>A voice whose words last as long as a test wants: a steady tone, half as long at each quicker pace.</summary>
internal sealed class TestVoice(Func<CallPart, double?> seconds, int paces = 1) : ICallVoice
{
    public int Paces => paces;

    public float[]? Say(CallPart part, int pace) => seconds(part) is { } length
        ? [.. Enumerable.Repeat(0.25f, (int)Math.Round(length / (1 << pace) * ClickTrack.SampleRate))]
        : null;
}
