using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Align;

/// <summary>Notes at uneven times over 100 s as the mix, and recordings of them by another clock. Invented.</summary>
public sealed class RecordingPlaceTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore-recording-").FullName;

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    [Theory]
    [InlineData(7.3, 0, 48_000)]
    [InlineData(7.3, 80, 44_100)]
    [InlineData(-2.5, -50, 48_000)]
    public void Start_and_drift_are_found_by_the_mix_alone(double start, double drift, int rate)
    {
        var place = RecordingPlace.Find(Written("hall.wav", Notes(start, drift, rate, seed: 2), rate), Written("mix.wav", Notes(0, 0, 48_000, seed: 1), 48_000), Click, TestContext.Current.CancellationToken);
        Assert.NotNull(place);
        Assert.Equal(RecordingClue.Mix, place.By);
        Assert.Equal(start, place.Start.Value, 0.006);
        // A thousandth of a second over 80 s is 12 ppm.
        Assert.Equal(drift, place.Drift, 40.0);
        Assert.Equal(start + 50 * (1 + drift * 1e-6), place.In(new Seconds(50)).Value, 0.004);
        Assert.True(place.Agree > 0.9, $"{place.Agree}");
    }

    // The night stayed for 0.7 s at 50 s: half of it lies off the line.
    [Fact]
    public void A_night_that_stayed_somewhere_does_not_agree_with_the_timeline()
    {
        var place = RecordingPlace.Find(Written("hall.wav", Notes(3, 0, 48_000, seed: 2, stay: 0.7), 48_000), Written("mix.wav", Notes(0, 0, 48_000, seed: 1), 48_000), Click, TestContext.Current.CancellationToken);
        Assert.True(place is null or { Agree: < 0.75 }, $"{place}");
    }

    [Fact]
    public void Noise_is_not_the_mix() =>
        Assert.Null(RecordingPlace.Find(Written("hall.wav", Noise(48_000 * 100, 9), 48_000), Written("mix.wav", Notes(0, 0, 48_000, seed: 1), 48_000), Click, TestContext.Current.CancellationToken));

    private static ClickTimes Click => ClickTimes.Of(Piece.Of(50), new ClickSettings());

    private StemFile Written(string name, float[] samples, int rate)
    {
        var path = Path.Combine(_folder, name);
        using (var writer = new StemWriter(path, new SoundFormat(rate, 1)))
        {
            writer.Write(samples);
            writer.Finish();
        }
        return StemFile.Read(path);
    }

    private static float[] Notes(double start, double drift, int rate, ulong seed, double stay = 0)
    {
        var samples = Noise((int)((100 + Math.Max(0, start) + 5) * rate), seed);
        var times = new SeededNoise(77);
        for (var at = 0.5; at < 98; at += 0.25 + 0.5 * times.Unit())
        {
            var first = (start + (1 + drift * 1e-6) * (at + (at > 50 ? stay : 0))) * rate;
            for (var i = 0; i < rate / 2; i++)
            {
                var frame = (int)Math.Round(first) + i;
                if (frame >= 0 && frame < samples.Length) samples[frame] += (float)(0.3 * Math.Min(1, i / (0.01 * rate)) * Math.Exp(-i / (0.2 * rate)) * Math.Sin(2 * Math.PI * 311 * i / rate));
            }
        }
        return samples;
    }

    private static float[] Noise(int length, ulong seed)
    {
        var noise = new SeededNoise(seed);
        return [.. Enumerable.Range(0, length).Select(_ => 0.02f * noise.Even())];
    }
}
