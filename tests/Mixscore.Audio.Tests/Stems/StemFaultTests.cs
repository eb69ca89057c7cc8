using Mixscore.Score;
using NAudio.Wave;

namespace Mixscore.Audio.Tests.Stems;

public sealed class StemFaultTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    private string Good(int rate = 48_000, int bits = 24, int channels = 2) =>
        Sound.WriteByLibrary(_folder["a.wav"], new WaveFormat(rate, bits, channels), Sound.Tone(997, 0.5, 0.01 * channels, rate));

    private Fault Refused(string code)
    {
        var fault = Assert.Single(Assert.Throws<InputException>(() => StemFile.Read(_folder["a.wav"])).Faults);
        Assert.Equal(code, fault.Code);
        Assert.NotEmpty(fault.Remedy);
        Assert.Equal(_folder["a.wav"], fault.Place.File);
        return fault;
    }

    [Theory]
    [InlineData("")]
    [InlineData("RIFF")]
    [InlineData("OggS and then some more that is long enough to be a header of something")]
    [InlineData("RIFF\0\0\0\0AVI LIST and then some more that is long enough to be a header")]
    [InlineData("RIFF\0\0\0\0WAVELIST\u0004\0\0\0abcd")]
    public void What_is_not_a_WAV_is_refused(string text)
    {
        File.WriteAllText(_folder["a.wav"], text);
        Refused("MX202");
    }

    [Fact]
    public void A_file_shorter_than_its_header_says_is_refused()
    {
        var whole = File.ReadAllBytes(Good());
        foreach (var cut in new[] { 1, 3, 6, 600, whole.Length - 50 })
        {
            File.WriteAllBytes(_folder["a.wav"], whole[..^cut]);
            Refused("MX203");
        }
    }

    [Fact]
    public void A_data_chunk_cut_in_the_middle_of_a_frame_is_refused()
    {
        var bytes = File.ReadAllBytes(Good());
        var data = bytes.AsSpan().IndexOf("data"u8);
        BitConverter.TryWriteBytes(bytes.AsSpan(data + 4), BitConverter.ToInt32(bytes, data + 4) - 4);
        File.WriteAllBytes(_folder["a.wav"], bytes);
        Assert.Contains("2 of 6 bytes", Refused("MX203").Found, StringComparison.Ordinal);
    }

    // A recorder that was stopped hard leaves a header that promises the most or nothing.
    [Theory]
    [InlineData(-1, "MX203")]
    [InlineData(0, "MX205")]
    public void A_header_that_was_never_completed_is_refused(int length, string code)
    {
        var bytes = File.ReadAllBytes(Good());
        BitConverter.TryWriteBytes(bytes.AsSpan(bytes.AsSpan().IndexOf("data"u8) + 4), length);
        File.WriteAllBytes(_folder["a.wav"], bytes);
        Refused(code);
    }

    [Fact]
    public void Encodings_that_are_not_read_are_named()
    {
        using (var writer = new WaveFileWriter(_folder["a.wav"], new WaveFormat(48_000, 8, 1))) writer.Write(new byte[100]);
        Assert.Contains("8 bits", Refused("MX204").Found, StringComparison.Ordinal);
        using (var writer = new WaveFileWriter(_folder["a.wav"], WaveFormat.CreateMuLawFormat(48_000, 1))) writer.Write(new byte[100]);
        Assert.Contains("MuLaw", Refused("MX204").Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData(31_999)]
    [InlineData(192_001)]
    public void Rates_out_of_range_are_refused(int rate)
    {
        Good(rate);
        Refused("MX206");
    }

    [Theory]
    [InlineData(32_000)]
    [InlineData(192_000)]
    public void Rates_at_the_ends_of_the_range_are_read(int rate) => Assert.Equal(rate, StemFile.Read(Good(rate)).Format.SampleRate);

    [Fact]
    public void Seven_channels_are_refused()
    {
        Good(channels: 7);
        Refused("MX207");
    }

    [Fact]
    public void What_is_not_there_is_unavailable()
    {
        foreach (var path in new[] { _folder["none.wav"], _folder["none/none.wav"], Path.GetDirectoryName(_folder["a"])! })
            Assert.Equal("MX201", Assert.Single(Assert.Throws<UnavailableException>(() => StemFile.Read(path)).Faults).Code);
    }

    // Fuzz: a header with any bytes changed is read or refused, and never anything else.
    [Fact]
    public void Damaged_headers_are_refused_or_read()
    {
        var whole = File.ReadAllBytes(Good());
        var noise = new SeededNoise(7);
        for (var i = 0; i < 400; i++)
        {
            var bytes = (byte[])whole.Clone();
            for (var n = 1 + noise.Next() % 3; n > 0; n--) bytes[noise.Next() % 60] = (byte)noise.Next();
            File.WriteAllBytes(_folder["a.wav"], bytes[..(noise.Next() % 4 == 0 ? (int)(noise.Next() % (ulong)bytes.Length) : bytes.Length)]);
            try
            {
                Assert.InRange(StemFile.Read(_folder["a.wav"]).Frames, 1, whole.Length);
            }
            catch (InputException e)
            {
                Assert.StartsWith("MX20", Assert.Single(e.Faults).Code, StringComparison.Ordinal);
            }
        }
    }
}
