using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Mixscore.Live;

namespace Mixscore.Page;

/// <summary>
/// What goes to the browser in bytes, little-endian. Sound: <c>u8</c> 1, <c>u8</c> flags (1 begins, 2 ends), <c>u16</c> frames,
/// <c>u32</c> order, <c>f64</c> seconds, then <c>f32</c> left and right in turn. Values: <c>u8</c> 2, <c>u8</c> flags (1 plays),
/// <c>u16</c> sources, <c>u32</c> jumps, <c>f64</c> seconds, <c>f64</c> quarters, <c>f32</c> momentary and short-term of the mix,
/// then 20 bytes a source: <c>f32</c> gain, planned gain, offset, momentary, <c>u8</c> holder, <c>u8</c> flags (1 muted, 2 solo, 4 link gone, 8 in hand at a desk),
/// <c>u16</c> 0. −200 stands for off and for nothing to measure.
/// </summary>
internal static class Frames
{
    internal const int SoundHeader = 16;
    internal const int ValuesHeader = 32;
    internal const int PerSource = 20;
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

    internal static byte[] Of(StemPlayer player, RunPicture picture)
    {
        var bytes = new byte[ValuesHeader + player.Voices.Count * PerSource];
        var span = bytes.AsSpan();
        span[0] = 2;
        span[1] = (byte)(player.IsPlaying ? 1 : 0);
        BinaryPrimitives.WriteUInt16LittleEndian(span[2..], (ushort)player.Voices.Count);
        BinaryPrimitives.WriteUInt32LittleEndian(span[4..], player.Jumps);
        BinaryPrimitives.WriteDoubleLittleEndian(span[8..], player.Position.Value);
        BinaryPrimitives.WriteDoubleLittleEndian(span[16..], player.Quarters);
        Write(span[24..], player.Momentary?.Value);
        Write(span[28..], player.ShortTerm?.Value);
        for (var i = 0; i < player.Voices.Count; i++)
        {
            var voice = player.Voices[i];
            var place = span[(ValuesHeader + i * PerSource)..];
            var source = picture.Sources[i];
            Write(place, source.Gain?.Value);
            Write(place[4..], source.Planned?.Value);
            Write(place[8..], source.Offset.Value);
            Write(place[12..], voice.Momentary?.Value);
            place[16] = (byte)source.Holder;
            place[17] = (byte)((voice.IsMuted ? 1 : 0) | (voice.IsSolo ? 2 : 0) | (source.Gone is null ? 0 : 4) | (source.HandDesk is null ? 0 : 8));
        }
        return bytes;
    }

    private static void Write(Span<byte> place, double? value) => BinaryPrimitives.WriteSingleLittleEndian(place, value is { } level ? (float)level : Nothing);
}
