using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Mixscore.Loudness;

/// <content>AddPlain on whole vectors; products and sums fused.</content>
internal sealed partial class LaneFilter
{
    private void AddFour(ReadOnlySpan<float> frames)
    {
        Vector256<double> a1 = Vector256.Create(_a1), a2 = Vector256.Create(_a2), ab1 = Vector256.Create(_ab1), b2 = Vector256.Create(_b2);
        Vector256<double> c1 = Vector256.Create(_c1), c2 = Vector256.Create(_c2), c12 = Vector256.Create(_c12);
        Vector256<double> s1 = Vector256.Create(_s1), s2 = Vector256.Create(_s2), t1 = Vector256.Create(_t1), t2 = Vector256.Create(_t2);
        var sum = Vector256.Create(_sums);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var x = Widen256(in frame, i);
            var y = x + s1;
            s1 = Vector256.FusedMultiplyAdd(a1, s1, Vector256.FusedMultiplyAdd(ab1, x, s2));
            s2 = Vector256.FusedMultiplyAdd(a2, y, b2 * x);
            var z = y + t1;
            t1 = Vector256.FusedMultiplyAdd(c1, t1, Vector256.FusedMultiplyAdd(c12, y, t2));
            t2 = Vector256.FusedMultiplyAdd(c2, z, y);
            sum = Vector256.FusedMultiplyAdd(z, z, sum);
        }
        s1.CopyTo(_s1);
        s2.CopyTo(_s2);
        t1.CopyTo(_t1);
        t2.CopyTo(_t2);
        sum.CopyTo(_sums);
    }

    // Two vectors side by side: while one waits for its product, the other computes.
    private void AddTwoFours(ReadOnlySpan<float> frames)
    {
        Vector256<double> a1 = Vector256.Create(_a1), a2 = Vector256.Create(_a2), ab1 = Vector256.Create(_ab1), b2 = Vector256.Create(_b2);
        Vector256<double> c1 = Vector256.Create(_c1), c2 = Vector256.Create(_c2), c12 = Vector256.Create(_c12);
        Vector256<double> s1 = Vector256.Create(_s1), s2 = Vector256.Create(_s2), t1 = Vector256.Create(_t1), t2 = Vector256.Create(_t2);
        Vector256<double> r1 = Vector256.Create(_s1, 4), r2 = Vector256.Create(_s2, 4), u1 = Vector256.Create(_t1, 4), u2 = Vector256.Create(_t2, 4);
        Vector256<double> sum = Vector256.Create(_sums), mus = Vector256.Create(_sums, 4);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var x = Widen256(in frame, i);
            var y = x + s1;
            s1 = Vector256.FusedMultiplyAdd(a1, s1, Vector256.FusedMultiplyAdd(ab1, x, s2));
            s2 = Vector256.FusedMultiplyAdd(a2, y, b2 * x);
            var z = y + t1;
            t1 = Vector256.FusedMultiplyAdd(c1, t1, Vector256.FusedMultiplyAdd(c12, y, t2));
            t2 = Vector256.FusedMultiplyAdd(c2, z, y);
            sum = Vector256.FusedMultiplyAdd(z, z, sum);
            x = Widen256(in frame, i + 4);
            y = x + r1;
            r1 = Vector256.FusedMultiplyAdd(a1, r1, Vector256.FusedMultiplyAdd(ab1, x, r2));
            r2 = Vector256.FusedMultiplyAdd(a2, y, b2 * x);
            z = y + u1;
            u1 = Vector256.FusedMultiplyAdd(c1, u1, Vector256.FusedMultiplyAdd(c12, y, u2));
            u2 = Vector256.FusedMultiplyAdd(c2, z, y);
            mus = Vector256.FusedMultiplyAdd(z, z, mus);
        }
        s1.CopyTo(_s1);
        s2.CopyTo(_s2);
        t1.CopyTo(_t1);
        t2.CopyTo(_t2);
        sum.CopyTo(_sums);
        r1.CopyTo(_s1, 4);
        r2.CopyTo(_s2, 4);
        u1.CopyTo(_t1, 4);
        u2.CopyTo(_t2, 4);
        mus.CopyTo(_sums, 4);
    }

    private void AddEights(ReadOnlySpan<float> frames)
    {
        Vector512<double> a1 = Vector512.Create(_a1), a2 = Vector512.Create(_a2), ab1 = Vector512.Create(_ab1), b2 = Vector512.Create(_b2);
        Vector512<double> c1 = Vector512.Create(_c1), c2 = Vector512.Create(_c2), c12 = Vector512.Create(_c12);
        Vector512<double> s1 = Vector512.Create(_s1), s2 = Vector512.Create(_s2), t1 = Vector512.Create(_t1), t2 = Vector512.Create(_t2);
        var sum = Vector512.Create(_sums);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var x = Vector512.Create(Widen256(in frame, i), Widen256(in frame, i + 4));
            var y = x + s1;
            s1 = Vector512.FusedMultiplyAdd(a1, s1, Vector512.FusedMultiplyAdd(ab1, x, s2));
            s2 = Vector512.FusedMultiplyAdd(a2, y, b2 * x);
            var z = y + t1;
            t1 = Vector512.FusedMultiplyAdd(c1, t1, Vector512.FusedMultiplyAdd(c12, y, t2));
            t2 = Vector512.FusedMultiplyAdd(c2, z, y);
            sum = Vector512.FusedMultiplyAdd(z, z, sum);
        }
        s1.CopyTo(_s1);
        s2.CopyTo(_s2);
        t1.CopyTo(_t1);
        t2.CopyTo(_t2);
        sum.CopyTo(_sums);
    }

    private static Vector256<double> Widen256(ref readonly float samples, nuint at)
    {
        var four = Vector128.LoadUnsafe(in samples, at);
        return System.Runtime.Intrinsics.X86.Avx.IsSupported
            ? System.Runtime.Intrinsics.X86.Avx.ConvertToVector256Double(four)
            : Vector256.Create(Vector128.WidenLower(four), Vector128.WidenUpper(four));
    }
}
