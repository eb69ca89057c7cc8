using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace Mixscore.Loudness;

/// <summary>How large the samples of eight lanes are, as <see cref="SampleBits"/>.</summary>
/// <param name="Largest">The largest of each lane.</param>
/// <param name="LeastLessOne">The least of each lane that is not 0, less one; all bits where every one is 0.</param>
internal readonly record struct FrameSizes(Vector256<int> Largest, Vector256<uint> LeastLessOne)
{
    /// <summary>Of no frames.</summary>
    public static FrameSizes None => new(Vector256<int>.Zero, Vector256<uint>.AllBitsSet);

    /// <summary>Whether no sample is faulty, and none so soft that it counts as silence.</summary>
    public bool AreClean =>
        Vector256.LessThanOrEqualAll(Largest, Vector256.Create(SampleBits.Loudest))
        && Vector256.GreaterThanOrEqualAll(LeastLessOne, Vector256.Create((uint)SampleBits.Softest - 1));

    /// <summary>The sizes with one more frame among them.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public FrameSizes With(Vector256<float> frame)
    {
        var sizes = frame.AsInt32() & Vector256.Create(SampleBits.Size);
        return new(Vector256.Max(Largest, sizes), Vector256.Min(LeastLessOne, sizes.AsUInt32() - Vector256<uint>.One));
    }

    /// <summary>The largest magnitude of each lane, where the samples are clean.</summary>
    public Vector256<float> Peaks => Largest.AsSingle();
}
