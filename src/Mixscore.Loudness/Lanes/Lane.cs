using System.Numerics;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics.X86;

namespace Mixscore.Loudness;

/// <summary>
/// One channel's samples of the block in hand, cleaned, with as many older ones before them as the true-peak filter needs.
/// </summary>
internal sealed class Lane(int longest)
{
    /// <summary>Above this magnitude (+240 dBFS) a number is no sound but a fault, as NaN and the infinities are.</summary>
    private const float Absurd = 1e12f;

    /// <summary>Below this (-500 dBFS) it is silence: smaller ones would bring slow denormal arithmetic and no sound.</summary>
    private const float Nothing = 1e-25f;

    // Kernels read whole vectors; what lies past the last sample is never used.
    private const int Slack = 32;

    // With the sign away, the bits of floats are in the order of the floats, and those of NaN above all.
    private const int Unsigned = 0x7FFF_FFFF;
    private static readonly int AbsurdBits = BitConverter.SingleToInt32Bits(Absurd);
    private static readonly int BelowSoundBits = BitConverter.SingleToInt32Bits(Nothing) - 1;

    private readonly float[] _samples = new float[TruePeakFilter.History + longest + Slack];
    private int _count;

    /// <summary>The samples loaded last.</summary>
    public ReadOnlySpan<float> Fresh => _samples.AsSpan(TruePeakFilter.History, _count);

    /// <summary>The samples loaded last, after <see cref="TruePeakFilter.History"/> older ones.</summary>
    public ReadOnlySpan<float> WithHistory => _samples.AsSpan(0, TruePeakFilter.History + _count);

    /// <summary>The samples loaded last, for kernels that read up to 31 more in whole vectors.</summary>
    public ref readonly float First => ref _samples[TruePeakFilter.History];

    /// <summary>Largest magnitude among the samples loaded last.</summary>
    public float Peak { get; private set; }

    /// <summary>Takes one sample in <paramref name="stride"/> and makes faulty ones 0.</summary>
    /// <returns>How many were faulty.</returns>
    public int Load(ReadOnlySpan<float> source, int stride, int count)
    {
        KeepHistory(count);
        var fresh = _samples.AsSpan(TruePeakFilter.History, count);
        if (stride == 1)
        {
            Peak = Clean(source[..count], fresh);
        }
        else
        {
            for (int i = 0, from = 0; i < fresh.Length; i++, from += stride) fresh[i] = source[from];
            Peak = Clean(fresh, fresh);
        }
        if (Peak <= Absurd) return 0;
        var faulty = RemoveFaults(fresh);
        Peak = Clean(fresh, fresh);
        return faulty;
    }

    /// <summary>Takes a block of silence.</summary>
    public void LoadSilence(int count)
    {
        KeepHistory(count);
        _samples.AsSpan(TruePeakFilter.History, count).Clear();
        Peak = 0;
    }

    private void KeepHistory(int count)
    {
        WithHistory[^TruePeakFilter.History..].CopyTo(_samples);
        _count = count;
    }

    /// <summary>Copies samples and makes inaudible ones 0.</summary>
    /// <returns>The largest magnitude; NaN if there is one.</returns>
    private static float Clean(ReadOnlySpan<float> source, Span<float> target)
    {
        ref var from = ref Unsafe.As<float, int>(ref MemoryMarshal.GetReference(source));
        ref var to = ref Unsafe.As<float, int>(ref MemoryMarshal.GetReference(target));
        var (unsigned, belowSound) = (new Vector<int>(Unsigned), new Vector<int>(BelowSoundBits));
        Vector<int> peaks = default, others = default;
        var i = 0;
        for (; i <= target.Length - 2 * Vector<int>.Count; i += 2 * Vector<int>.Count)
        {
            var x = Vector.LoadUnsafe(ref from, (nuint)i);
            var y = Vector.LoadUnsafe(ref from, (nuint)(i + Vector<int>.Count));
            var (size, other) = (x & unsigned, y & unsigned);
            peaks = Vector.Max(peaks, size);
            others = Vector.Max(others, other);
            Fetch(ref Unsafe.Add(ref from, i + target.Length));
            (x & Vector.GreaterThan(size, belowSound)).StoreUnsafe(ref to, (nuint)i);
            (y & Vector.GreaterThan(other, belowSound)).StoreUnsafe(ref to, (nuint)(i + Vector<int>.Count));
        }
        peaks = Vector.Max(peaks, others);
        var peak = 0;
        for (var lane = 0; lane < Vector<int>.Count; lane++) peak = Math.Max(peak, peaks[lane]);
        for (; i < target.Length; i++)
        {
            var bits = Unsafe.Add(ref from, i);
            peak = Math.Max(peak, bits & Unsigned);
            Unsafe.Add(ref to, i) = (bits & Unsigned) > BelowSoundBits ? bits : 0;
        }
        return peak > BelowSoundBits ? BitConverter.Int32BitsToSingle(peak) : 0;
    }

    // Eight lanes read from eight places, which is more than the processor foresees. What follows will be wanted next; where there
    // is nothing, fetching does nothing.
    private static unsafe void Fetch(ref int ahead)
    {
        if (Sse.IsSupported) Sse.Prefetch0(Unsafe.AsPointer(ref ahead));
    }

    private static int RemoveFaults(Span<float> samples)
    {
        var faulty = 0;
        foreach (ref var sample in samples)
        {
            if ((BitConverter.SingleToInt32Bits(sample) & Unsigned) <= AbsurdBits) continue;
            sample = 0;
            faulty++;
        }
        return faulty;
    }
}
