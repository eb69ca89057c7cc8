using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace Mixscore.Audio;

/// <summary>Little-endian samples to floats and back; full scale is 1. Integers of n bits are scaled by 2^(n−1).</summary>
internal static class SampleCodec
{
    private const float Scale16 = 1f / (1 << 15);
    private const float Scale32 = 1f / (1u << 31);
    private const float Steps24 = 1 << 23;

    internal static int BytesPer(SampleEncoding encoding) => encoding switch
    {
        SampleEncoding.Pcm16 => 2,
        SampleEncoding.Pcm24 => 3,
        _ => 4,
    };

    /// <summary>Decodes as many samples as the target holds; the bytes must hold as many.</summary>
    internal static void Decode(ReadOnlySpan<byte> bytes, SampleEncoding encoding, Span<float> samples)
    {
        switch (encoding)
        {
            case SampleEncoding.Pcm16:
                Decode16(bytes, samples);
                break;
            case SampleEncoding.Pcm24:
                Decode24(bytes, samples);
                break;
            case SampleEncoding.Pcm32:
                Decode32(bytes, samples);
                break;
            default:
                bytes[..(samples.Length * 4)].CopyTo(MemoryMarshal.AsBytes(samples));
                break;
        }
    }

    /// <summary>Rounds to 24 bits, half to even; what lies beyond full scale is clipped.</summary>
    /// <returns>How many samples were clipped.</returns>
    internal static int Encode24(ReadOnlySpan<float> samples, Span<byte> bytes)
    {
        var clipped = 0;
        for (var i = 0; i < samples.Length; i++)
        {
            var scaled = MathF.Round(samples[i] * Steps24);
            if (scaled is > Steps24 - 1 or < -Steps24)
            {
                clipped++;
                scaled = Math.Clamp(scaled, -Steps24, Steps24 - 1);
            }
            var value = (int)scaled;
            bytes[3 * i] = (byte)value;
            bytes[3 * i + 1] = (byte)(value >> 8);
            bytes[3 * i + 2] = (byte)(value >> 16);
        }
        return clipped;
    }

    private static void Decode16(ReadOnlySpan<byte> bytes, Span<float> samples)
    {
        var values = MemoryMarshal.Cast<byte, short>(bytes)[..samples.Length];
        var i = 0;
        for (; i <= samples.Length - Vector128<short>.Count; i += Vector128<short>.Count)
        {
            var (low, high) = Vector128.Widen(Vector128.Create(values[i..]));
            (Vector128.ConvertToSingle(low) * Scale16).CopyTo(samples[i..]);
            (Vector128.ConvertToSingle(high) * Scale16).CopyTo(samples[(i + 4)..]);
        }
        for (; i < samples.Length; i++) samples[i] = values[i] * Scale16;
    }

    private static void Decode24(ReadOnlySpan<byte> bytes, Span<float> samples)
    {
        // Four samples of three bytes go to the upper bytes of four integers; 16 and above picks a zero.
        var spread = Vector128.Create((byte)255, 0, 1, 2, 255, 3, 4, 5, 255, 6, 7, 8, 255, 9, 10, 11);
        const int Four = 3 * 4;
        ref readonly var from = ref MemoryMarshal.GetReference(bytes);
        ref var to = ref MemoryMarshal.GetReference(samples);
        // A vector of bytes reaches beyond its four samples.
        var last = Math.Min(samples.Length, (bytes.Length - Vector128<byte>.Count + Four) / 3) - 8;
        var i = 0;
        for (; i <= last; i += 8)
        {
            var values = Vector128.Shuffle(Vector128.LoadUnsafe(in from, (nuint)(3 * i)), spread).AsInt32();
            var others = Vector128.Shuffle(Vector128.LoadUnsafe(in from, (nuint)(3 * i + Four)), spread).AsInt32();
            (Vector128.ConvertToSingle(values) * Scale32).StoreUnsafe(ref to, (nuint)i);
            (Vector128.ConvertToSingle(others) * Scale32).StoreUnsafe(ref to, (nuint)i + 4);
        }
        for (; i < samples.Length; i++)
            samples[i] = ((bytes[3 * i] << 8) | (bytes[3 * i + 1] << 16) | (bytes[3 * i + 2] << 24)) * Scale32;
    }

    private static void Decode32(ReadOnlySpan<byte> bytes, Span<float> samples)
    {
        var values = MemoryMarshal.Cast<byte, int>(bytes)[..samples.Length];
        var i = 0;
        for (; i <= samples.Length - Vector128<int>.Count; i += Vector128<int>.Count)
            (Vector128.ConvertToSingle(Vector128.Create(values[i..])) * Scale32).CopyTo(samples[i..]);
        for (; i < samples.Length; i++) samples[i] = values[i] * Scale32;
    }
}
