using System.Numerics;

namespace Mixscore.Loudness;

/// <summary>
/// One channel's samples of the hop in hand, cleaned, with as many older ones before them as the true-peak filter needs.
/// </summary>
internal sealed class Lane(int longest)
{
    /// <summary>Above this magnitude (+240 dBFS) a number is no sound but a fault, as NaN and the infinities are.</summary>
    private const float Absurd = 1e12f;

    /// <summary>Below this (-500 dBFS) it is silence: smaller ones would bring slow denormal arithmetic and no sound.</summary>
    private const float Nothing = 1e-25f;

    private readonly float[] _samples = new float[TruePeakFilter.History + longest];
    private int _count;

    /// <summary>The samples loaded last.</summary>
    public ReadOnlySpan<float> Fresh => _samples.AsSpan(TruePeakFilter.History, _count);

    /// <summary>The samples loaded last, after <see cref="TruePeakFilter.History"/> older ones.</summary>
    public ReadOnlySpan<float> WithHistory => _samples.AsSpan(0, TruePeakFilter.History + _count);

    /// <summary>Largest magnitude among the samples loaded last.</summary>
    public float Peak { get; private set; }

    /// <summary>Takes one sample in <paramref name="stride"/> and makes faulty ones 0.</summary>
    /// <returns>How many were faulty.</returns>
    public int Load(ReadOnlySpan<float> source, int stride, int count)
    {
        WithHistory[^TruePeakFilter.History..].CopyTo(_samples);
        _count = count;
        var fresh = _samples.AsSpan(TruePeakFilter.History, count);
        if (stride == 1) source[..count].CopyTo(fresh);
        else for (int i = 0, from = 0; i < fresh.Length; i++, from += stride) fresh[i] = source[from];
        return Clean(fresh);
    }

    private int Clean(Span<float> samples)
    {
        var faulty = 0;
        var peaks = Vector<float>.Zero;
        var i = 0;
        for (; i <= samples.Length - Vector<float>.Count; i += Vector<float>.Count)
        {
            var x = new Vector<float>(samples[i..]);
            var size = Vector.Abs(x);
            // Written so that NaN fails it.
            var sound = Vector.LessThanOrEqual(size, new Vector<float>(Absurd));
            if (!Vector.EqualsAll(sound, Vector<int>.AllBitsSet)) faulty += Vector<float>.Count + Vector.Sum(sound);
            var kept = Vector.BitwiseAnd(sound, Vector.GreaterThanOrEqual(size, new Vector<float>(Nothing)));
            Vector.ConditionalSelect(kept, x, Vector<float>.Zero).CopyTo(samples[i..]);
            peaks = Vector.Max(peaks, Vector.ConditionalSelect(kept, size, Vector<float>.Zero));
        }
        var peak = 0f;
        for (var lane = 0; lane < Vector<float>.Count; lane++) peak = Math.Max(peak, peaks[lane]);
        for (; i < samples.Length; i++)
        {
            var size = Math.Abs(samples[i]);
            if (!(size <= Absurd)) faulty++;
            if (!(size is >= Nothing and <= Absurd)) samples[i] = 0;
            else peak = Math.Max(peak, size);
        }
        Peak = peak;
        return faulty;
    }
}
