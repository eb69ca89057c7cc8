using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Mixscore.Loudness;

/// <summary>
/// One channel's samples of the block in hand, with as many older ones before them as the true-peak filter needs.
/// </summary>
internal sealed class Lane(int longest)
{
    // Kernels read whole vectors; behind the last sample lie eight zeros, then what is never used.
    private const int Slack = 32;

    private readonly float[] _samples = new float[TruePeakFilter.History + longest + Slack];
    private int _count;

    /// <summary>The samples taken last.</summary>
    public ReadOnlySpan<float> Fresh => _samples.AsSpan(TruePeakFilter.History, _count);

    /// <summary>The samples taken last, after <see cref="TruePeakFilter.History"/> older ones.</summary>
    public ReadOnlySpan<float> WithHistory => _samples.AsSpan(0, TruePeakFilter.History + _count);

    /// <summary>The samples taken last, for kernels that read up to 31 more in whole vectors; eight zeros follow the last.</summary>
    public ref readonly float First => ref _samples[TruePeakFilter.History];

    /// <summary>Largest magnitude among the samples taken last, once they are clean.</summary>
    public float Peak { get; set; }

    /// <summary>How many of the samples taken last were faulty, once they are clean.</summary>
    public int Faulty { get; private set; }

    /// <summary>Takes one sample in <paramref name="stride"/>, as it is.</summary>
    public void Take(ReadOnlySpan<float> source, int stride, int count)
    {
        KeepHistory(count);
        var fresh = _samples.AsSpan(TruePeakFilter.History, count);
        if (stride == 1) Copy(source[..count], fresh);
        else
            for (int i = 0, from = 0; i < fresh.Length; i++, from += stride) fresh[i] = source[from];
        Vector256<float>.Zero.StoreUnsafe(ref _samples[TruePeakFilter.History + count]);
    }

    /// <summary>Takes a block of silence.</summary>
    public void TakeSilence(int count)
    {
        KeepHistory(count);
        _samples.AsSpan(TruePeakFilter.History, count + Vector256<float>.Count).Clear();
    }

    /// <summary>Makes 0 of the samples taken last that are faulty, which are counted, or too soft to be heard.</summary>
    public void Clean()
    {
        foreach (ref var sample in _samples.AsSpan(TruePeakFilter.History, _count))
        {
            var size = BitConverter.SingleToInt32Bits(sample) & SampleBits.Size;
            if (size > SampleBits.Loudest) Faulty++;
            if (!SampleBits.AreClean(size)) sample = 0;
        }
    }

    /// <summary>Cleans the samples taken last where they need it, and finds their peak.</summary>
    public void Inspect()
    {
        var sizes = Sizes();
        if (!sizes.AreClean)
        {
            Clean();
            sizes = Sizes();
        }
        Peak = SampleSize.Largest(sizes.Peaks.AsVector());
    }

    private FrameSizes Sizes()
    {
        var sizes = FrameSizes.None;
        for (var i = 0; i < _count; i += Vector256<float>.Count) sizes = sizes.With(Vector256.LoadUnsafe(in First, (nuint)i));
        return sizes;
    }

    private void KeepHistory(int count)
    {
        WithHistory[^TruePeakFilter.History..].CopyTo(_samples);
        (_count, Faulty) = (count, 0);
    }

    private static void Copy(ReadOnlySpan<float> source, Span<float> target)
    {
        ref var from = ref MemoryMarshal.GetReference(source);
        ref var to = ref MemoryMarshal.GetReference(target);
        var i = 0;
        for (; i <= target.Length - 16; i += 16)
        {
            Fetch(ref Unsafe.Add(ref from, i + target.Length));
            Vector256.LoadUnsafe(ref from, (nuint)i).StoreUnsafe(ref to, (nuint)i);
            Vector256.LoadUnsafe(ref from, (nuint)i + 8).StoreUnsafe(ref to, (nuint)i + 8);
        }
        source[i..].CopyTo(target[i..]);
    }

    // Eight lanes read from eight places, which is more than the processor foresees. What follows is the next block of this lane; where there
    // is nothing, fetching does nothing.
    private static unsafe void Fetch(ref float ahead)
    {
        if (Sse.IsSupported) Sse.Prefetch1(Unsafe.AsPointer(ref ahead));
    }
}
