namespace Mixscore.Audio.Tests.Click;

/// <summary>
/// Finds where clicks begin without knowing how they are made: a sample that stands over twice all that was heard in the
/// 2 ms before it, and over a floor.
/// </summary>
internal static class OnsetDetector
{
    internal static List<int> Find(ReadOnlySpan<float> samples, int rate, double floor = 0.02)
    {
        var onsets = new List<int>();
        var memory = rate / 500;
        for (var i = 0; i < samples.Length; i++)
        {
            var now = Math.Abs(samples[i]);
            if (now < floor) continue;
            var before = 0f;
            for (var k = Math.Max(0, i - memory); k < i; k++) before = Math.Max(before, Math.Abs(samples[k]));
            if (now > 2 * before && (onsets.Count == 0 || i - onsets[^1] > memory)) onsets.Add(i);
        }
        return onsets;
    }
}
