using Mixscore.Loudness;

namespace Mixscore.Audio.Tests.Stems;

public sealed class StemWriterTests : IDisposable
{
    private readonly Folder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void What_is_written_reads_back_to_half_a_step()
    {
        var samples = Sound.Tone(997, 1, 0.5);
        var file = Sound.Write(_folder["deep/er/a.wav"], samples, channels: 2);
        Assert.Equal((SampleEncoding.Pcm24, new SoundFormat(48_000, 2)), (file.Encoding, file.Format));
        var read = Sound.Read(file.Path);
        for (var i = 0; i < samples.Length; i++) Assert.InRange((read[i] - samples[i]) * (1 << 23), -1, 1);
    }

    // Law: every 24-bit value survives the way out and back.
    [Fact]
    public void Every_24_bit_value_comes_back()
    {
        var values = Enumerable.Range(0, 1 << 12).Select(i => (i * 4096 + i % 4096 - (1 << 23)) / (float)(1 << 23)).Append(8388607f / 8388608f).ToArray();
        Sound.Write(_folder["a.wav"], values);
        Assert.Equal(values, Sound.Read(_folder["a.wav"]));
    }

    [Fact]
    public void Clipped_samples_are_counted()
    {
        using var writer = new StemWriter(_folder["a.wav"], default);
        writer.Write([0.5f, 1f, -1f, 1.5f, -7f, 0]);
        writer.Finish();
        Assert.Equal((3, 6), (writer.Clipped, writer.Frames));   // 1 lies a step over the highest value, -1 is the lowest
        Assert.Equal([0.5f, 8388607f / 8388608f, -1f, 8388607f / 8388608f, -1f, 0], Sound.Read(_folder["a.wav"]));
    }

    [Fact]
    public void The_same_sound_gives_the_same_bytes()
    {
        foreach (var dither in new[] { false, true })
        {
            foreach (var name in new[] { "a.wav", "b.wav" })
            {
                using var writer = new StemWriter(_folder[name], default, dither: dither);
                writer.Write(Sound.Tone(440, 0.3, 0.7));
                writer.Finish();
            }
            Assert.Equal(File.ReadAllBytes(_folder["a.wav"]), File.ReadAllBytes(_folder["b.wav"]));
        }
    }

    // Derived: triangular noise of two even parts of a step has variance 1/6, rounding adds 1/12: a quarter of a step squared.
    [Fact]
    public void Dither_is_triangular_noise_of_a_step()
    {
        using var writer = new StemWriter(_folder["a.wav"], default, dither: true);
        writer.Write(new float[200_000]);
        writer.Finish();
        var steps = Sound.Read(_folder["a.wav"]).Select(sample => sample * (double)(1 << 23)).ToList();
        Assert.InRange(steps.Average(), -0.01, 0.01);
        Assert.InRange(steps.Average(step => step * step), 0.24, 0.26);
    }

    [Fact]
    public void An_unfinished_file_leaves_what_was_there()
    {
        File.WriteAllText(_folder["a.wav"], "before");
        using (var writer = new StemWriter(_folder["a.wav"], default))
        {
            writer.Write(new float[100]);
            Assert.Equal("before", File.ReadAllText(_folder["a.wav"]));
        }
        Assert.Equal(["a.wav"], _folder.Names);
        Assert.Equal("before", File.ReadAllText(_folder["a.wav"]));
    }

    [Fact]
    public void A_place_that_cannot_be_written_is_unavailable()
    {
        File.WriteAllText(_folder["a"], "a file, not a folder");
        var fault = Assert.Single(Assert.Throws<UnavailableException>(() => new StemWriter(_folder["a/b.wav"], default)).Faults);
        Assert.Equal("MX221", fault.Code);
        Directory.CreateDirectory(_folder["c.wav"]);
        using var writer = new StemWriter(_folder["c.wav"], default);
        writer.Write(new float[10]);
        Assert.Equal("MX221", Assert.Single(Assert.Throws<UnavailableException>(writer.Finish).Faults).Code);
    }
}
