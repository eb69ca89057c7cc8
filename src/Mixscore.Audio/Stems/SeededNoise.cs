namespace Mixscore.Audio;

/// <summary>
/// A seeded generator that is the same on every machine and runtime: SplitMix64 (Steele, Lea and Flood, Fast splittable
/// pseudorandom number generators, 2014; constants as published there).
/// </summary>
internal sealed class SeededNoise(ulong seed)
{
    private ulong _state = seed;

    /// <summary>The next 64 bits.</summary>
    internal ulong Next()
    {
        var z = _state += 0x9E3779B97F4A7C15;
        z = (z ^ (z >> 30)) * 0xBF58476D1CE4E5B9;
        z = (z ^ (z >> 27)) * 0x94D049BB133111EB;
        return z ^ (z >> 31);
    }

    /// <summary>Even over −1 to 1.</summary>
    internal float Even() => (int)(Next() >> 32) * (1f / 2147483648f);

    /// <summary>Even over 0 to 1, 1 excluded.</summary>
    internal double Unit() => (Next() >> 11) * (1.0 / (1UL << 53));

    /// <summary>Normal with spread 1, to within a sum of twelve even ones: never beyond ±6.</summary>
    internal double Normal()
    {
        var sum = 0.0;
        for (var i = 0; i < 12; i++) sum += Unit();
        return sum - 6;
    }
}
