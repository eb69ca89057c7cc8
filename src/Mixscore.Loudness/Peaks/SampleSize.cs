using System.Numerics;
using System.Runtime.InteropServices;

namespace Mixscore.Loudness;

/// <summary>How large finite samples are and how much they bend.</summary>
internal static class SampleSize
{
    /// <summary>Largest magnitude; 0 of none.</summary>
    public static float Largest(ReadOnlySpan<float> samples)
    {
        var peaks = Vector<float>.Zero;
        var i = 0;
        for (; i <= samples.Length - Vector<float>.Count; i += Vector<float>.Count)
            peaks = Vector.MaxNative(peaks, Vector.Abs(new Vector<float>(samples[i..])));
        var peak = Largest(peaks);
        for (; i < samples.Length; i++) peak = Math.Max(peak, Math.Abs(samples[i]));
        return peak;
    }

    /// <summary>Largest magnitude of x[i] - 2 x[i + 1] + x[i + 2]; 0 of fewer than three.</summary>
    public static float LargestSecondDifference(ReadOnlySpan<float> samples)
    {
        var peaks = Vector<float>.Zero;
        ref var first = ref MemoryMarshal.GetReference(samples);
        var i = 0;
        for (; i <= samples.Length - 2 - Vector<float>.Count; i += Vector<float>.Count)
        {
            var (before, at, after) = (Vector.LoadUnsafe(ref first, (nuint)i), Vector.LoadUnsafe(ref first, (nuint)i + 1), Vector.LoadUnsafe(ref first, (nuint)i + 2));
            peaks = Vector.MaxNative(peaks, Vector.Abs(before - at - (at - after)));
        }
        var peak = Largest(peaks);
        for (; i < samples.Length - 2; i++) peak = Math.Max(peak, Math.Abs(samples[i] - samples[i + 1] - (samples[i + 1] - samples[i + 2])));
        return peak;
    }

    /// <summary>The largest of a vector that has nothing below 0.</summary>
    public static float Largest(Vector<float> sizes)
    {
        var peak = 0f;
        for (var lane = 0; lane < Vector<float>.Count; lane++) peak = float.MaxNative(peak, sizes[lane]);
        return peak;
    }
}
