using System.Buffers.Binary;
using System.Collections.Concurrent;
using System.IO.Pipes;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Clocks;

public class SoundClockTests
{
    // A pipe of 16-bit stereo with code on the second channel, as a sound card's recorder gives it: where the code is, and when it was there.
    [Fact]
    public void It_hears_code_in_a_pipe()
    {
        using var server = new AnonymousPipeServerStream(PipeDirection.Out);
        using var client = new AnonymousPipeClientStream(PipeDirection.In, server.ClientSafePipeHandle);
        var sound = Code(new Timecode(TimecodeRate.Frames25, 1, 0, 10, 0), frames: 20);
        var points = new BlockingCollection<ClockPoint>();
        var writing = Task.Run(() =>
        {
            server.Write(Wave(sound));
            server.Close();
        }, TestContext.Current.CancellationToken);
        using var clock = new SoundClock(client, new Timecode(TimecodeRate.Frames25, 1, 0, 0, 0), () => TimeSpan.FromSeconds(100), points.Add);
        Assert.True(SpinWait.SpinUntil(() => clock.HasEnded, TimeSpan.FromSeconds(10)));
        // Each frame's end is the beginning of the next label.
        var found = points.ToArray();
        Assert.InRange(found.Length, 18, 20);
        Assert.All(found, point => Assert.Equal(ClockSignal.Moving, point.Signal));
        Assert.Equal(10.8, found[^1].At.Value, 0.041);
        for (var i = 1; i < found.Length; i++) Assert.Equal(0.04, found[i].At.Value - found[i - 1].At.Value, 6);
    }

    [Theory]
    [InlineData("this is no sound at all"), InlineData("RIFF....WAVE"), InlineData("")]
    public void What_is_no_WAV_is_told(string text) =>
        Assert.Equal("MX404", Assert.Throws<InputException>(() => new SoundClock(new MemoryStream(System.Text.Encoding.ASCII.GetBytes(text)), null, () => TimeSpan.Zero, _ => { })).Faults[0].Code);

    private static float[] Code(Timecode from, int frames)
    {
        var writer = new LtcWriter(from, 48_000);
        var sound = new float[(frames * 1920) + 960];
        writer.Fill(sound);
        return sound;
    }

    private static byte[] Wave(float[] sound)
    {
        var bytes = new byte[44 + (sound.Length * 4)];
        "RIFF"u8.CopyTo(bytes);
        "WAVEfmt "u8.CopyTo(bytes.AsSpan(8));
        // A stream's length is not known beforehand.
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(4), uint.MaxValue);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(16), 16);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(20), 1);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(22), 2);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(24), 48_000);
        BinaryPrimitives.WriteInt32LittleEndian(bytes.AsSpan(28), 48_000 * 4);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(32), 4);
        BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(34), 16);
        "data"u8.CopyTo(bytes.AsSpan(36));
        BinaryPrimitives.WriteUInt32LittleEndian(bytes.AsSpan(40), uint.MaxValue);
        for (var i = 0; i < sound.Length; i++) BinaryPrimitives.WriteInt16LittleEndian(bytes.AsSpan(46 + (i * 4)), (short)(sound[i] * 20_000));
        return bytes;
    }
}
