using System.Text.Json;
using Mixscore.Audio;

namespace Mixscore.Outside.Tests.Paper;

/// <summary>espeak-ng speaks the demo's calls. Where its words end is looked for in the sound itself, against the seconds that <c>read</c> tells.</summary>
public sealed class CallTests(DemoRun demo)
{
    private const int Rate = ClickTrack.SampleRate;

    [Theory]
    [InlineData("call.wav", 1)]
    [InlineData("call-south.wav", 4)]
    public void Spoken_words_end_before_their_bar_lines(string file, int every)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var samples = Read(demo.PathOf("out", file));
        var lead = demo.Json("out", "write.json").GetProperty("leadSeconds").GetDouble();
        var bars = JsonDocument.Parse(Outside.Mixscore("read", demo.PathOf(), "--json").Output).RootElement.GetProperty("played").EnumerateArray().ToArray();
        for (var i = 0; i < bars.Length; i++)
        {
            var line = (int)((lead + bars[i].GetProperty("startSeconds").GetDouble()) * Rate);
            // Nothing is heard from 20 ms before a bar line on, so no word runs into it.
            Assert.True(Loudest(samples, line - Rate / 50, line) < 1e-4, $"{file}: a word runs into bar {bars[i].GetProperty("bar")}");
            var isCalled = i > 0 && int.TryParse(bars[i].GetProperty("bar").GetString(), out var number) && number % every == 0;
            if (isCalled)
            {
                var before = (int)((lead + bars[i - 1].GetProperty("startSeconds").GetDouble()) * Rate);
                Assert.True(Loudest(samples, before, line) > 0.05, $"{file}: bar {bars[i].GetProperty("bar")} is not called");
            }
        }
    }

    [Fact]
    public void Write_json_tells_each_word_with_its_time_and_leaves_none_out()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        foreach (var call in demo.Json("out", "write.json").GetProperty("calls").EnumerateArray())
        {
            Assert.Equal(0, call.GetProperty("leftOut").GetArrayLength());
            Assert.All(call.GetProperty("words").EnumerateArray(), word => Assert.True(word.GetProperty("toSeconds").GetDouble() < word.GetProperty("beforeSeconds").GetDouble()));
        }
    }

    // The voice says numbers in its language: another language gives another sound for the same figures.
    [Fact]
    public void Espeak_speaks_the_languages_that_it_knows()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var folder = Directory.CreateTempSubdirectory("mixscore").FullName;
        try
        {
            var part = new Planning.CallPart("17", "17");
            var words = ((string[])["en", "de", "fr"]).Select(language => EspeakVoice.Find(language, folder, default)!.Say(part, 0)!).ToArray();
            Assert.All(words, word => Assert.InRange(word.Length, Rate / 5, 2 * Rate));
            Assert.Equal(3, words.Select(word => word.Length).Distinct().Count());
            Assert.Throws<Score.InputException>(() => EspeakVoice.Find("xx", folder, default));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    private static float Loudest(float[] samples, int from, int to) => samples[Math.Max(0, from)..to].Max(Math.Abs);

    private static float[] Read(string path)
    {
        using var reader = StemFile.Read(path).Open();
        var samples = new float[reader.File.Frames];
        reader.Read(samples);
        return samples;
    }
}
