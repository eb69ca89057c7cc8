namespace Mixscore.Audio;

/// <summary>
/// One period of a tone, once for every octave of its pitch, each with no more partials than stay under a limit: the
/// oscillator that reads it never aliases. Each has a mean square of 1.
/// </summary>
internal sealed class Wavetable
{
    private const int Bits = 11, Size = 1 << Bits, FractionBits = 32 - Bits;
    private const double HighestPartial = 15_000, LowestPitch = 20;
    private readonly float[][] _octaves;

    /// <param name="amplitude">The amplitude of a partial, from 1.</param>
    /// <param name="most">How many partials there are at most.</param>
    /// <param name="seed">Spreads the partials' phases; 0 leaves them together, which makes a pulse.</param>
    internal Wavetable(Func<int, double> amplitude, int most = 400, ulong seed = 0)
    {
        var noise = new SeededNoise(seed);
        var phases = Enumerable.Range(0, most + 1).Select(_ => seed == 0 ? 0 : 2 * Math.PI * noise.Unit()).ToArray();
        _octaves = [.. Enumerable.Range(0, 9).Select(octave =>
            Period(amplitude, phases, (int)Math.Clamp(HighestPartial / (2 * LowestPitch * (1 << octave)), 1, Math.Min(most, Size / 4))))];
    }

    /// <summary>The period for a pitch.</summary>
    internal float[] At(double hertz) => _octaves[Math.Clamp((int)Math.Floor(Math.Log2(Math.Max(hertz, LowestPitch) / LowestPitch)), 0, _octaves.Length - 1)];

    /// <summary>A period's value at a phase, whose whole range is a period; straight between entries.</summary>
    internal static float Read(float[] period, uint phase)
    {
        var at = phase >> FractionBits;
        var part = (phase & ((1u << FractionBits) - 1)) * (1f / (1u << FractionBits));
        return period[at] + part * (period[at + 1] - period[at]);
    }

    /// <summary>How far the phase moves in a frame.</summary>
    internal static uint Step(double hertz, double rate) => (uint)(hertz / rate * 4294967296.0);

    private static float[] Period(Func<int, double> amplitude, double[] phases, int partials)
    {
        var sum = new double[Size + 1];
        for (var k = 1; k <= partials; k++)
        {
            var size = amplitude(k);
            if (size == 0) continue;
            // x[n + 1] = 2 cos(w) x[n] - x[n - 1]: one multiplication a sample instead of a sine.
            var turn = 2 * Math.PI * k / Size;
            var (twice, before, now) = (2 * Math.Cos(turn), size * Math.Sin(phases[k] - turn), size * Math.Sin(phases[k]));
            for (var n = 0; n < Size; n++)
            {
                sum[n] += now;
                (before, now) = (now, twice * now - before);
            }
        }
        var scale = 1 / Math.Sqrt(sum.Take(Size).Average(value => value * value));
        sum[Size] = sum[0];
        return [.. sum.Select(value => (float)(value * scale))];
    }
}
