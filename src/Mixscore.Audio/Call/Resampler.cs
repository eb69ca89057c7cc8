using System.Numerics;

namespace Mixscore.Audio;

/// <summary>
/// Changes the sample rate of a short sound: a sinc of 16 zero crossings each way under a Hann window, drawn wider where
/// the rate falls. Between two whole rates only so many positions occur; each has its weights made once.
/// </summary>
internal static class Resampler
{
    private const int Crossings = 16;

    internal static float[] To(ReadOnlySpan<float> samples, int from, int to)
    {
        if (from == to) return samples.ToArray();
        var common = (int)BigInteger.GreatestCommonDivisor(from, to);
        var (step, phases) = (from / common, to / common);
        var reach = (int)Math.Ceiling(Crossings * Math.Max(1.0, (double)from / to));
        var weights = Weights(phases, reach, Math.Min(1.0, (double)to / from));
        var result = new float[(int)((long)samples.Length * to / from)];
        for (var i = 0; i < result.Length; i++)
        {
            var (whole, phase) = Math.DivRem((long)i * step, phases);
            var row = weights[phase];
            var first = (int)whole - reach + 1;
            var (low, high) = (Math.Max(0, -first), Math.Min(row.Length, samples.Length - first));
            var sum = 0f;
            for (var k = low; k < high; k++) sum += row[k] * samples[first + k];
            result[i] = sum;
        }
        return result;
    }

    /// <summary>For each position between two samples the weights of those around it.</summary>
    private static float[][] Weights(int phases, int reach, double cut)
    {
        var rows = new float[phases][];
        for (var phase = 0; phase < phases; phase++)
        {
            var row = rows[phase] = new float[2 * reach];
            for (var k = 0; k < row.Length; k++)
            {
                var x = (double)phase / phases - (k - reach + 1);
                var angle = Math.PI * x * cut;
                var window = Math.Abs(x) < reach ? 0.5 * (1 + Math.Cos(Math.PI * x / reach)) : 0;
                row[k] = (float)(cut * window * (Math.Abs(angle) < 1e-9 ? 1 : Math.Sin(angle) / angle));
            }
        }
        return rows;
    }
}
