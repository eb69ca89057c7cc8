using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using System.Runtime.Intrinsics.X86;

namespace Mixscore.Loudness;

/// <content>AddPlain on whole vectors; products and sums fused.</content>
internal sealed partial class LaneFilter
{
    private void AddFour(ReadOnlySpan<float> frames)
    {
        Vector256<double> a1 = Vector256.Create(_a1), a2 = Vector256.Create(_a2), b1 = Vector256.Create(_b1), b2 = Vector256.Create(_b2), e1 = Vector256.Create(_e1), e2 = Vector256.Create(_e2);
        Vector256<double> w1 = Vector256.Create(_w1), w2 = Vector256.Create(_w2), t = Vector256.Create(_t), u = Vector256.Create(_u), sum = Vector256.Create(_sums);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var w = Vector256.FusedMultiplyAdd(a1, w1, Vector256.FusedMultiplyAdd(a2, w2, Widen256(in frame, i)));
            var y = Vector256.FusedMultiplyAdd(b1, w1, Vector256.FusedMultiplyAdd(b2, w2, w));
            (w1, w2) = (w, w1);
            var z = y + t;
            t = Vector256.FusedMultiplyAdd(e1, z, t + u);
            u = Vector256.FusedMultiplyAdd(e2, z, u);
            sum = Vector256.FusedMultiplyAdd(z, z, sum);
        }
        w1.CopyTo(_w1);
        w2.CopyTo(_w2);
        t.CopyTo(_t);
        u.CopyTo(_u);
        sum.CopyTo(_sums);
    }

    // Two vectors side by side: while one waits for its product, the other computes.
    private void AddTwoFours(ReadOnlySpan<float> frames)
    {
        Vector256<double> a1 = Vector256.Create(_a1), a2 = Vector256.Create(_a2), b1 = Vector256.Create(_b1), b2 = Vector256.Create(_b2), e1 = Vector256.Create(_e1), e2 = Vector256.Create(_e2);
        Vector256<double> w1 = Vector256.Create(_w1), w2 = Vector256.Create(_w2), t = Vector256.Create(_t), u = Vector256.Create(_u), sum = Vector256.Create(_sums);
        Vector256<double> v1 = Vector256.Create(_w1, 4), v2 = Vector256.Create(_w2, 4), p = Vector256.Create(_t, 4), q = Vector256.Create(_u, 4), mus = Vector256.Create(_sums, 4);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var w = Vector256.FusedMultiplyAdd(a1, w1, Vector256.FusedMultiplyAdd(a2, w2, Widen256(in frame, i)));
            var y = Vector256.FusedMultiplyAdd(b1, w1, Vector256.FusedMultiplyAdd(b2, w2, w));
            (w1, w2) = (w, w1);
            var z = y + t;
            t = Vector256.FusedMultiplyAdd(e1, z, t + u);
            u = Vector256.FusedMultiplyAdd(e2, z, u);
            sum = Vector256.FusedMultiplyAdd(z, z, sum);
            w = Vector256.FusedMultiplyAdd(a1, v1, Vector256.FusedMultiplyAdd(a2, v2, Widen256(in frame, i + 4)));
            y = Vector256.FusedMultiplyAdd(b1, v1, Vector256.FusedMultiplyAdd(b2, v2, w));
            (v1, v2) = (w, v1);
            z = y + p;
            p = Vector256.FusedMultiplyAdd(e1, z, p + q);
            q = Vector256.FusedMultiplyAdd(e2, z, q);
            mus = Vector256.FusedMultiplyAdd(z, z, mus);
        }
        w1.CopyTo(_w1);
        w2.CopyTo(_w2);
        t.CopyTo(_t);
        u.CopyTo(_u);
        sum.CopyTo(_sums);
        v1.CopyTo(_w1, 4);
        v2.CopyTo(_w2, 4);
        p.CopyTo(_t, 4);
        q.CopyTo(_u, 4);
        mus.CopyTo(_sums, 4);
    }

    private void AddEights(ReadOnlySpan<float> frames)
    {
        Vector512<double> a1 = Vector512.Create(_a1), a2 = Vector512.Create(_a2), b1 = Vector512.Create(_b1), b2 = Vector512.Create(_b2), e1 = Vector512.Create(_e1), e2 = Vector512.Create(_e2);
        Vector512<double> w1 = Vector512.Create(_w1), w2 = Vector512.Create(_w2), t = Vector512.Create(_t), u = Vector512.Create(_u), sum = Vector512.Create(_sums);
        ref var frame = ref MemoryMarshal.GetReference(frames);
        for (nuint i = 0; i < (nuint)frames.Length; i += Width)
        {
            var w = Vector512.FusedMultiplyAdd(a1, w1, Vector512.FusedMultiplyAdd(a2, w2, Widen512(in frame, i)));
            var y = Vector512.FusedMultiplyAdd(b1, w1, Vector512.FusedMultiplyAdd(b2, w2, w));
            (w1, w2) = (w, w1);
            var z = y + t;
            t = Vector512.FusedMultiplyAdd(e1, z, t + u);
            u = Vector512.FusedMultiplyAdd(e2, z, u);
            sum = Vector512.FusedMultiplyAdd(z, z, sum);
        }
        w1.CopyTo(_w1);
        w2.CopyTo(_w2);
        t.CopyTo(_t);
        u.CopyTo(_u);
        sum.CopyTo(_sums);
    }

    private static Vector256<double> Widen256(ref readonly float samples, nuint at)
    {
        var four = Vector128.LoadUnsafe(in samples, at);
        return Avx.IsSupported
            ? Avx.ConvertToVector256Double(four)
            : Vector256.Create(Vector128.WidenLower(four), Vector128.WidenUpper(four));
    }

    private static Vector512<double> Widen512(ref readonly float samples, nuint at) => Avx512F.IsSupported
        ? Avx512F.ConvertToVector512Double(Vector256.LoadUnsafe(in samples, at))
        : Vector512.Create(Widen256(in samples, at), Widen256(in samples, at + 4));
}
