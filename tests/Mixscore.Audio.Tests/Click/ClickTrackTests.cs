using CsCheck;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Click;

public sealed class ClickTrackTests
{
    // The issue of timing: an onset lies within one sample of its time.
    [Fact]
    public void Onsets_lie_within_one_sample_of_the_timeline() =>
        Gen.Select(Gen.Double[40, 200], Gen.Double[40, 200], Gen.Int[0, 2], Gen.Int[1, 3]).Sample((first, second, bars, parts) =>
        {
            using var folder = new Folder();
            var timeline = Piece.Of(3, new TempoPiece(Quarters.Zero, first, second), new TempoPiece(new Quarters(7), second), new TempoPiece(new Quarters(10), 25), new TempoPiece(new Quarters(11), first));
            var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = bars, Subdivide = parts });
            ClickTrack.Write(folder["click.wav"], click);
            var onsets = OnsetDetector.Find(Sound.Read(folder["click.wav"]), ClickTrack.SampleRate);
            Assert.Equal(click.Strokes.Count, onsets.Count);
            for (var i = 0; i < onsets.Count; i++)
                Assert.True(Math.Abs(onsets[i] - (click.Lead + click.Strokes[i].Time).Value * ClickTrack.SampleRate) <= 1, $"stroke {i} begins at {onsets[i]}");
        }, iter: 25);

    [Fact]
    public void Accents_beats_and_parts_differ_in_height()
    {
        using var folder = new Folder();
        var click = ClickTimes.Of(Piece.Of(1), new ClickSettings { CountIn = 0, Subdivide = 2 });
        ClickTrack.Write(folder["click.wav"], click);
        var samples = Sound.Read(folder["click.wav"]);
        double Peak(int stroke) => 20 * Math.Log10(Math.Abs(samples[(int)ClickTrack.FrameOf(click, click.Strokes[stroke].Time)]));
        Assert.Equal(-6, Peak(0), 0.01);
        Assert.Equal(-15, Peak(1), 0.01);
        Assert.Equal(-9, Peak(2), 0.01);
    }

    [Fact]
    public void The_file_is_as_long_as_count_in_and_piece_and_falls_silent_before_its_end()
    {
        using var folder = new Folder();
        var click = ClickTimes.Of(Piece.Of(2), new ClickSettings());
        ClickTrack.Write(folder["click.wav"], click);
        var samples = Sound.Read(folder["click.wav"]);
        Assert.Equal(16 * ClickTrack.SampleRate, samples.Length);
        Assert.Equal(0f, samples[^1]);
        Assert.Equal(["click.wav"], folder.Names);
    }

    [Fact]
    public void A_second_channel_goes_beside_it_sample_by_sample()
    {
        using var folder = new Folder();
        var click = ClickTimes.Of(Piece.Of(1), new ClickSettings { CountIn = 0 });
        var next = 0;
        ClickTrack.Write(folder["both.wav"], click, samples =>
        {
            for (var i = 0; i < samples.Length; i++) samples[i] = next++ % 1000 / 1024f;
        });
        ClickTrack.Write(folder["mono.wav"], click);
        var (both, mono) = (Sound.Read(folder["both.wav"]), Sound.Read(folder["mono.wav"]));
        Assert.Equal(mono, both.Where((_, i) => i % 2 == 0));
        Assert.Equal(Enumerable.Range(0, mono.Length).Select(i => i % 1000 / 1024f), both.Where((_, i) => i % 2 == 1));
    }
}
