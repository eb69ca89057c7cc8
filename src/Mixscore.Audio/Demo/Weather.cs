namespace Mixscore.Audio;

/// <summary>What a microphone hears when nobody plays: wind that comes and goes, and hiss.</summary>
internal static class Weather
{
    /// <summary>Adds it.</summary>
    /// <param name="sound">The stem.</param>
    /// <param name="level">dB of the mean square over that of full scale, at rest.</param>
    /// <param name="noise">Its chance.</param>
    internal static void Add(Span<float> sound, double level, SeededNoise noise)
    {
        // The two low-passes leave the wind this much of the even noise that goes in (measured).
        const float Wind = 12f, Hiss = 0.35f;
        var gust = new Wander(noise, spread: 0.9, seconds: 3);
        var amplitude = (float)Math.Pow(10, level / 20);
        float first = 0, second = 0, blows = 1;
        for (var at = 0; at < sound.Length; at += Player.Stride)
        {
            var target = (float)Math.Pow(10, gust.Next((double)Player.Stride / Player.Rate) / 20);
            var some = sound[at..Math.Min(at + Player.Stride, sound.Length)];
            var step = (target - blows) / Player.Stride;
            foreach (ref var sample in some)
            {
                blows += step;
                first += 0.06f * (noise.Even() - first);
                second += 0.06f * (first - second);
                sample += amplitude * (Wind * blows * second + Hiss * noise.Even());
            }
        }
    }
}
