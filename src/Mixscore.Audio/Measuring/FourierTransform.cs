using System.Numerics;

namespace Mixscore.Audio;

/// <summary>The fast Fourier transform in place, radix 2, decimation in time (Cooley and Tukey, 1965). Several threads may use it.</summary>
public sealed class FourierTransform
{
    private readonly Complex[] _turns;

    /// <summary>A transform of a length.</summary>
    /// <param name="length">A power of two, 2 or more.</param>
    public FourierTransform(int length)
    {
        if (length < 2 || !int.IsPow2(length)) throw new ArgumentOutOfRangeException(nameof(length), length, "a power of two");
        _turns = new Complex[length / 2];
        for (var i = 0; i < _turns.Length; i++) _turns[i] = Complex.FromPolarCoordinates(1, -2 * Math.PI * i / length);
    }

    /// <summary>Transforms.</summary>
    /// <param name="bins">As many samples as the length; afterwards the bins, from 0 Hz up and then the negative ones.</param>
    public void Apply(Span<Complex> bins)
    {
        var length = 2 * _turns.Length;
        ArgumentOutOfRangeException.ThrowIfNotEqual(bins.Length, length);
        for (int i = 1, j = 0; i < length; i++)
        {
            var bit = length >> 1;
            for (; (j & bit) != 0; bit >>= 1) j ^= bit;
            j ^= bit;
            if (i < j) (bins[i], bins[j]) = (bins[j], bins[i]);
        }
        for (var size = 2; size <= length; size *= 2)
            for (var start = 0; start < length; start += size)
                for (var i = 0; i < size / 2; i++)
                {
                    var (even, odd) = (bins[start + i], bins[start + i + size / 2] * _turns[i * (length / size)]);
                    (bins[start + i], bins[start + i + size / 2]) = (even + odd, even - odd);
                }
    }
}
