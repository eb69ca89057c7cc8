namespace Mixscore.Audio.Tests;

/// <summary>A made feed whose playing and dropouts are known: a buzz of five partials over steady noise.</summary>
internal sealed class Feed
{
    private const int Rate = 48_000;
    private readonly float[] _samples;
    private readonly SeededNoise _noise;

    public Feed(double seconds, double? floorDecibels, ulong seed = 1)
    {
        _noise = new SeededNoise(seed);
        _samples = new float[(int)(seconds * Rate)];
        if (floorDecibels is not { } floor) return;
        var amplitude = (float)(Math.Sqrt(3) * Math.Pow(10, floor / 20));   // an even spread of ±a has a level of a / √3
        for (var i = 0; i < _samples.Length; i++) _samples[i] = amplitude * _noise.Even();
    }

    /// <summary>Plays, with edges of 10 ms, swelling slowly by ±2 dB.</summary>
    public Feed Plays(double from, double to, double decibels, double hertz = 220)
    {
        const double Edge = 0.01;
        var amplitude = Math.Sqrt(2.0 / 5) * Math.Pow(10, decibels / 20);
        for (var i = Math.Max(0, (int)(from * Rate)); i < Math.Min(_samples.Length, (int)(to * Rate)); i++)
        {
            var at = (double)i / Rate;
            var edge = Math.Clamp(Math.Min(at - from, to - at) / Edge, 0, 1);
            var swell = Math.Pow(10, 0.1 * Math.Sin(2 * Math.PI * 0.3 * at));
            var buzz = 0.0;
            for (var k = 1; k <= 5; k++) buzz += Math.Sin(2 * Math.PI * hertz * k * at + k);
            _samples[i] += (float)(amplitude * edge * swell * buzz);
        }
        return this;
    }

    /// <summary>Cuts the link; what is heard instead has a level, or is nothing.</summary>
    public Feed Drops(double from, double to, double? decibels = null)
    {
        var amplitude = decibels is { } level ? (float)(Math.Sqrt(3) * Math.Pow(10, level / 20)) : 0;
        for (var i = (int)Math.Round(from * Rate); i < (int)Math.Round(to * Rate); i++) _samples[i] = amplitude * _noise.Even();
        return this;
    }

    public StemFile Write(string path) => Sound.Write(path, _samples, Rate);
}
