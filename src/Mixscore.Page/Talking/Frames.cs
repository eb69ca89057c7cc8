using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Mixscore.Live;

namespace Mixscore.Page;

/// <summary>What stands at the head of the values.</summary>
/// <param name="Plays">Whether the piece is under way.</param>
/// <param name="Jumps">How often it went elsewhere.</param>
/// <param name="Seconds">Where it is, by the click.</param>
/// <param name="Quarters">Where it is in the score.</param>
internal readonly record struct ValuesHead(bool Plays, uint Jumps, double Seconds, double Quarters)
{
    /// <summary>Whether faders of a desk are moved.</summary>
    internal bool IsArmed { get; init; }

    /// <summary>Beats that are still counted in.</summary>
    internal double CountIn { get; init; }

    /// <summary>Of the mix, LUFS; <c>null</c> where nothing is measured.</summary>
    internal double? Momentary { get; init; }

    /// <summary>Of the mix, LUFS; <c>null</c> where nothing is measured.</summary>
    internal double? ShortTerm { get; init; }
}

/// <summary>What the run's picture does not have of a source.</summary>
/// <param name="Loudness">What is heard of it; <c>null</c> for nothing.</param>
/// <param name="IsMuted">Whether it is left out.</param>
/// <param name="IsSolo">Whether the others are.</param>
internal readonly record struct SourceExtra(double? Loudness, bool IsMuted = false, bool IsSolo = false);

/// <summary>
/// What goes to the browser in bytes, little-endian. Sound: <c>u8</c> 1, <c>u8</c> flags (1 begins, 2 ends), <c>u16</c> frames,
/// <c>u32</c> order, <c>f64</c> seconds, then <c>f32</c> left and right in turn. Values: <c>u8</c> 2, <c>u8</c> flags (1 plays, 2 armed),
/// <c>u16</c> sources, <c>u32</c> jumps, <c>f64</c> seconds, <c>f64</c> quarters, <c>f32</c> momentary and short-term of the mix,
/// <c>f32</c> beats still counted in, then 24 bytes a source: <c>f32</c> gain, planned gain, offset, loudness, gain of the first desk's
/// fader, <c>u8</c> holder, <c>u8</c> flags (1 muted, 2 solo, 4 link gone, 8 in hand at a desk, 16 the desk has said where its fader is),
/// <c>u16</c> 0. −200 stands for off and for nothing to measure.
/// </summary>
internal static class Frames
{
    internal const int SoundHeader = 16;
    internal const int ValuesHeader = 36;
    internal const int PerSource = 24;
    private const float Nothing = -200;

    internal static byte[] Of(in SoundBlock block)
    {
        var bytes = new byte[SoundHeader + block.Samples.Length * sizeof(float)];
        bytes[0] = 1;
        bytes[1] = (byte)((block.Begins ? 1 : 0) | (block.Ends ? 2 : 0));
        BinaryPrimitives.WriteUInt16LittleEndian(bytes.AsSpan(2), (ushort)(block.Samples.Length / 2));
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(4), block.Order);
        BinaryPrimitives.WriteDoubleLittleEndian(bytes.AsSpan(8), block.At.Value);
        MemoryMarshal.AsBytes(block.Samples.Span).CopyTo(bytes.AsSpan(SoundHeader));
        return bytes;
    }

    internal static byte[] Of(in ValuesHead head, RunPicture picture, Func<int, SourceExtra> extra)
    {
        var count = picture.Sources.Length;
        var bytes = new byte[ValuesHeader + count * PerSource];
        var span = bytes.AsSpan();
        span[0] = 2;
        span[1] = (byte)((head.Plays ? 1 : 0) | (head.IsArmed ? 2 : 0));
        BinaryPrimitives.WriteUInt16LittleEndian(span[2..], (ushort)count);
        BinaryPrimitives.WriteUInt32LittleEndian(span[4..], head.Jumps);
        BinaryPrimitives.WriteDoubleLittleEndian(span[8..], head.Seconds);
        BinaryPrimitives.WriteDoubleLittleEndian(span[16..], head.Quarters);
        Write(span[24..], head.Momentary);
        Write(span[28..], head.ShortTerm);
        Write(span[32..], head.CountIn);
        for (var i = 0; i < count; i++) Write(span[(ValuesHeader + i * PerSource)..], picture.Sources[i], picture.Desks.Length > i ? picture.Desks[i] : default, extra(i));
        return bytes;
    }

    private static void Write(Span<byte> place, in SourceView source, in DeskView desk, in SourceExtra extra)
    {
        Write(place, source.Gain?.Value);
        Write(place[4..], source.Planned?.Value);
        Write(place[8..], source.Offset.Value);
        Write(place[12..], extra.Loudness);
        Write(place[16..], desk.Gain?.Value);
        place[20] = (byte)source.Holder;
        place[21] = (byte)((extra.IsMuted ? 1 : 0) | (extra.IsSolo ? 2 : 0) | (source.Gone is null ? 0 : 4) | (source.HandDesk is null ? 0 : 8) | (desk.HasReported ? 16 : 0));
    }

    private static void Write(Span<byte> place, double? value) => BinaryPrimitives.WriteSingleLittleEndian(place, value is { } level ? (float)level : Nothing);
}
