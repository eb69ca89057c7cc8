using CsCheck;
using Mixscore.Score;
using NAudio.Wave;

namespace Mixscore.Audio.Tests.Stems;

public sealed class StemReaderTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    public static TheoryData<string, SampleEncoding, double> Kinds => new()
    {
        { "16", SampleEncoding.Pcm16, 2.0 / (1 << 15) },
        { "24", SampleEncoding.Pcm24, 1.0 / (1 << 23) },
        { "float", SampleEncoding.Ieee32, 0 },
        { "extensible 24", SampleEncoding.Pcm24, 1.0 / (1 << 23) },
        { "extensible 32", SampleEncoding.Pcm32, 1.0 / (1 << 24) },
        { "extensible float", SampleEncoding.Ieee32, 0 },
    };

    // Derived: an integer of n bits is within a step of what the library was given to write; at 16 bits it scales by a step less.
    [Theory, MemberData(nameof(Kinds))]
    public void Reads_what_the_library_writes(string kind, SampleEncoding encoding, double step)
    {
        foreach (var channels in Enumerable.Range(1, 6))
        {
            var format = kind switch
            {
                "16" => new WaveFormat(44_100, 16, channels),
                "24" => new WaveFormat(44_100, 24, channels),
                "float" => WaveFormat.CreateIeeeFloatWaveFormat(44_100, channels),
                "extensible 24" => new WaveFormatExtensible(44_100, 24, channels, AudioMediaSubtypes.MEDIASUBTYPE_PCM, 24, 0),
                "extensible 32" => new WaveFormatExtensible(44_100, 32, channels, AudioMediaSubtypes.MEDIASUBTYPE_PCM, 32, 0),
                _ => new WaveFormatExtensible(44_100, 32, channels, AudioMediaSubtypes.MEDIASUBTYPE_IEEE_FLOAT, 32, 0),
            };
            var samples = Sound.Tone(997, 0.9, 0.05 * channels, 44_100)[..(2201 * channels)];
            Write(_folder["a.wav"], format, samples);
            var file = StemFile.Read(_folder["a.wav"]);
            Assert.Equal((encoding, 2201L, 44_100, channels), (file.Encoding, file.Frames, file.Format.SampleRate, file.Format.Channels));
            var read = Sound.Read(_folder["a.wav"]);
            for (var i = 0; i < samples.Length; i++) Assert.InRange(read[i] - samples[i], -step, step);
        }
    }

    // Derived: the extremes of a two's complement integer of n bits over 2^(n-1).
    [Theory]
    [InlineData(16, "0080 0000 FF7F 0100", new[] { -1f, 0f, 32767f / 32768f, 1f / 32768f })]
    [InlineData(24, "000080 000000 FFFF7F 010000 FFFFFF", new[] { -1f, 0f, 8388607f / 8388608f, 1f / 8388608f, -1f / 8388608f })]
    [InlineData(32, "00000080 00000000 00000040 000000C0", new[] { -1f, 0f, 0.5f, -0.5f })]
    public void Integers_of_every_width_span_full_scale(int bits, string bytes, float[] expected)
    {
        var data = Convert.FromHexString(bytes.Replace(" ", "", StringComparison.Ordinal));
        // Nine times over, so that both the wide loop and its rest are gone through.
        var encoding = bits switch { 16 => SampleEncoding.Pcm16, 24 => SampleEncoding.Pcm24, _ => SampleEncoding.Pcm32 };
        var read = new float[9 * expected.Length];
        SampleCodec.Decode([.. Enumerable.Repeat(data, 9).SelectMany(d => d)], encoding, read);
        Assert.Equal(Enumerable.Repeat(expected, 9).SelectMany(e => e), read);
    }

    // Law: the same samples, whatever the size of the blocks.
    [Fact]
    public void Blocks_of_any_size_give_the_same_samples()
    {
        var samples = Sound.Tone(313, 0.7, 1.1);
        Sound.Write(_folder["a.wav"], samples, channels: 2);
        var whole = Sound.Read(_folder["a.wav"]);
        Gen.Int[2, 40_000].Array[1, 6].Sample(sizes =>
        {
            using var reader = StemFile.Read(_folder["a.wav"]).Open();
            var read = new List<float>();
            for (var i = 0; reader.Frame < reader.File.Frames; i++)
            {
                var block = new float[sizes[i % sizes.Length]];
                read.AddRange(block[..reader.Read(block)]);
            }
            Assert.Equal(0, reader.Read(new float[2]));
            Assert.Equal(whole, read);
        }, iter: 20);
    }

    // EBU Tech 3306: RF64 with its sizes in a ds64 chunk; here forced at a small size.
    [Fact]
    public void Reads_RF64()
    {
        var samples = Sound.Tone(997, 0.5, 0.1);
        using (var writer = new WaveFileWriter(_folder["a.wav"], new WaveFormat(48_000, 24, 1), new WaveFileWriterOptions { EnableRf64 = true, Rf64PromotionThreshold = 100 }))
            writer.WriteSamples(samples, 0, samples.Length);
        Assert.Equal("RF64"u8, File.ReadAllBytes(_folder["a.wav"]).AsSpan(0, 4));
        Assert.Equal(samples.Length, StemFile.Read(_folder["a.wav"]).Frames);
        Assert.InRange(Sound.Level(Sound.Read(_folder["a.wav"])), -6.03, -6.01);
    }

    [Fact]
    public void A_seek_goes_to_that_frame()
    {
        var samples = Sound.Tone(997, 0.5, 0.2);
        using var reader = Sound.Write(_folder["a.wav"], samples).Open();
        var whole = Sound.Read(_folder["a.wav"]);
        var one = new float[1];
        foreach (var frame in new[] { 5000, 0, 9599, 17 })
        {
            reader.Seek(frame);
            reader.Read(one);
            Assert.Equal(whole[frame], one[0]);
        }
    }

    [Theory]
    [InlineData(float.NaN)]
    [InlineData(float.PositiveInfinity)]
    public void A_sample_that_is_no_number_is_a_fault_with_its_time(float bad)
    {
        var samples = Sound.Tone(997, 0.5, 1);
        samples[24_000] = bad;
        Sound.WriteByLibrary(_folder["a.wav"], WaveFormat.CreateIeeeFloatWaveFormat(48_000, 1), samples);
        var fault = Assert.Single(Assert.Throws<InputException>(() => Sound.Read(_folder["a.wav"])).Faults);
        Assert.Equal("MX208", fault.Code);
        Assert.Contains("0.500 s", fault.Found, StringComparison.Ordinal);
    }

    private static void Write(string path, WaveFormat format, float[] samples) => Sound.WriteByLibrary(path, format, samples);
}
