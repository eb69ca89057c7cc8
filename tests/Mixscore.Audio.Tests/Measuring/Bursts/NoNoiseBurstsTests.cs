using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Measuring.Bursts;

/// <summary>What sounds like a burst in one way or another and is none: seldom enough that it cannot pass for a stem's own sound.</summary>
public sealed class NoNoiseBurstsTests : IDisposable
{
    private const int Rate = LinkNoise.Rate;
    private readonly Folder _folder = new();
    private readonly SeededNoise _noise = new(9);

    public void Dispose() => _folder.Dispose();

    private void None(float[] samples, string what)
    {
        var found = NoiseBurstsTests.Found(Sound.Write(_folder["a.wav"], [.. samples.Select(sample => Math.Clamp(sample, -0.999f, 0.999f))], Rate));
        Assert.True(found.Length == 0, $"{what}: {string.Join(' ', found.Select(one => $"{one.From} for {1000 * one.Length.Value:0.0} ms"))}");
    }

    /// <summary>A sound on every second, over a hiss of -75 dB.</summary>
    private float[] Every(double seconds, int count, Func<int, float[]> sound)
    {
        var samples = new float[(int)((count + 1) * seconds * Rate)];
        for (var i = 0; i < samples.Length; i++) samples[i] = 0.0003f * _noise.Even();
        for (var i = 0; i < count; i++)
        {
            var at = (int)((i + 0.5) * seconds * Rate);
            foreach (var sample in sound(i)) samples[at++] += sample;
        }
        return samples;
    }

    private static float[] Shaped(float[] sound, Func<double, double> amplitude) => [.. sound.Select((sample, i) => sample * (float)amplitude((double)i / Rate))];

    [Theory, InlineData("voice"), InlineData("horn"), InlineData("engine")]
    public void A_player(string player) => None(LinkNoise.Played(player), player);

    [Fact]
    public void Noise_throughout()
    {
        None(LinkNoise.Of(30 * Rate, null, new SeededNoise(1)).Select(sample => 0.1f * sample).ToArray(), "white");
        var (pink, brown) = (new float[30 * Rate], new float[30 * Rate]);
        var (slow, middle, quick, walk) = (0f, 0f, 0f, 0f);
        for (var i = 0; i < pink.Length; i++)
        {
            var white = _noise.Even();
            // Three low-passes an octave or so apart make 3 dB an octave, near enough.
            (slow, middle, quick) = (slow + 0.0025f * (white - slow), middle + 0.04f * (white - middle), quick + 0.4f * (white - quick));
            pink[i] = 0.5f * (9 * slow + 2.4f * middle + 0.8f * quick);
            brown[i] = walk = 0.999f * walk + 0.02f * white;
        }
        None(pink, "pink");
        None(brown, "brown");
    }

    [Fact]
    public void Silence_and_a_dither_that_begins_and_ends()
    {
        None(new float[10 * Rate], "silence");
        None(Every(1, 10, _ => []), "a floor");
        var gated = new float[20 * Rate];
        for (var i = 0; i < gated.Length; i++) gated[i] = i / (Rate / 2) % 3 == 0 ? _noise.Even() / 32_768 : 0;
        None(gated, "dither");
    }

    //  s   0       2       3   3.3     6      a gate that opens on a note, and then on nothing but the hiss of its microphone
    //      |-note--|       |hiss|
    [Fact]
    public void A_gate()
    {
        var gated = new float[60 * Rate];
        for (var i = 0; i < gated.Length; i++)
        {
            var time = (double)i / Rate % 6;
            if (time < 2 || time is > 3 and < 3.3) gated[i] = 0.002f * _noise.Even() + (time < 2 ? 0.1f * MathF.Sin(0.03f * i) : 0);
        }
        None(gated, "gate");
    }

    [Fact]
    public void Tones_with_hard_edges_and_sweeps()
    {
        foreach (var hertz in new[] { 60.0, 440, 2500, 6000 }) None(Every(1.5, 20, _ => Sound.Tone(hertz, 0.3, 0.08)), $"{hertz} Hz");
        None(Every(1.5, 20, i => [.. Enumerable.Range(0, Rate / 10).Select(n => n * (80 + 40 * i) % Rate < Rate / 2 ? 0.2f : -0.2f)]), "square waves");
        None(Every(1.5, 20, i => [.. Enumerable.Range(0, Rate / 10).Select(n => n % (Rate / (90 + 30 * i)) == 0 ? 0.5f : 0)]), "pulse trains");
        None([.. Enumerable.Range(0, 20 * Rate).Select(i => 0.3f * (float)Math.Sin(2 * Math.PI * 20 * 20 / Math.Log(1000) * (Math.Exp(Math.Log(1000) * i / (20.0 * Rate)) - 1)))], "a sweep");
    }

    //  an s and a sh: noise from 4 or 2.5 kHz up, which begins and ends in 2 to 20 ms
    [Fact]
    public void Hissed_consonants()
    {
        foreach (var (low, high) in new[] { (4500.0, 10_000.0), (2500.0, 7000.0) })
            foreach (var edge in new[] { 0.002, 0.008, 0.02 })
                None(Every(1.5, 20, i =>
                {
                    var length = 0.05 + 0.005 * i;
                    var (wide, narrow) = (LinkNoise.Of((int)(length * Rate), high, new SeededNoise((ulong)i)), LinkNoise.Of((int)(length * Rate), low, new SeededNoise((ulong)i)));
                    // The same noise through both: their difference is the band between.
                    var band = wide.Zip(narrow, (w, n) => w * (float)Math.Sqrt(high) - n * (float)Math.Sqrt(low)).Select(x => x / 1000).ToArray();
                    return Shaped(band, time => Math.Min(1, Math.Min(time, length - time) / edge));
                }), $"{low} Hz, {edge} s");
    }

    //  a snare or a stick: noise that is there at once and rings off, over 20 ms to a second
    [Fact]
    public void Drums()
    {
        foreach (var decay in new[] { 0.02, 0.05, 0.1, 0.2, 0.5, 1 })
            None(Every(2, 20, _ => Shaped(LinkNoise.Of((int)(1.2 * Rate), null, _noise), time => 0.2 * Math.Pow(10, -3 * time / decay))), $"-60 dB in {decay} s");
    }

    [Fact]
    public void Fades_and_breath()
    {
        foreach (var fade in new[] { 0.02, 0.1, 0.5 })
            None(Every(1.5, 4, _ => Shaped(LinkNoise.Of((int)(1.2 * Rate), null, _noise), time => 0.1 * Math.Min(1, Math.Min(time, 1.2 - time) / fade))), $"fades in and out over {fade} s");
        None(Every(1.5, 4, _ => Shaped(LinkNoise.Of(Rate / 2, 3000, _noise), time => 0.05 * Math.Sin(2 * Math.PI * time))), "breath");
    }

    // White to the ear and abrupt, but it is what the engine does all the time.
    [Fact]
    public void The_puffs_of_a_steam_engine() =>
        None(Every(0.3, 100, _ => Shaped(LinkNoise.Of((int)(0.1 * Rate), null, _noise), _ => 0.1)), "puffs");

    [Fact]
    public void Speech()
    {
        string[] words = ["sister", "shirts", "six", "seventy seven", "fifth thief", "thistles", "church choir", "tick tock", "pickled peppers", "kettle top", "zinc buzzes", "hush", "five fresh fish", "that is this"];
        foreach (var language in new[] { "en", "de", "fr" })
        {
            var voice = EspeakVoice.Find(language, _folder["words"], new Place("p.mix.yaml"));
            Assert.SkipWhen(voice is null, "espeak-ng is not installed");
            for (var pace = 0; pace < voice.Paces; pace += 3)
            {
                var said = words.Select(word => voice.Say(new CallPart(word, word), pace)!).ToArray();
                None(Every(2, words.Length, i => said[i]), $"{language}, pace {pace}");
            }
        }
    }
}
