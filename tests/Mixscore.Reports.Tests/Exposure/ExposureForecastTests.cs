using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Reports.Tests.Sheet;
using Mixscore.Score;

namespace Mixscore.Reports.Tests.Exposure;

public sealed class ExposureForecastTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore").FullName;

    // A tone at an exact frequency of IEC 61672-1 Table 3: 125.89 Hz is weighted by −16.1 dB, 1 kHz by nothing.
    [Theory]
    [InlineData(1000, 0)]
    [InlineData(125.8925, -16.1)]
    [InlineData(7943.282, -1.1)]
    [InlineData(15848.93, -6.6)]
    public void The_track_weighs_a_tone_as_the_table_does(double hertz, double weight)
    {
        var track = Track((hertz, 0.5, 4));
        Assert.Equal(10 * Math.Log10(0.125) + weight, 10 * Math.Log10(track.Mean(new Seconds(1), new Seconds(3))), 0.08);
    }

    // 24 bars of 4/4 at 72 last 80 s. The measured half plays 10 dB under the other: derived.
    [Fact]
    public void A_measured_stretch_sets_the_level_of_the_rest()
    {
        var plan = Calibrated(new Calibration(Position.Parse("1"), Position.Parse("13"), 84, default));
        var forecast = ExposureForecast.Of(plan, Track((1000, 0.05, 40), (1000, 0.05 * Math.Sqrt(10), 40)));
        Assert.NotNull(forecast);
        Assert.Equal(10 * Math.Log10((Math.Pow(10, 8.4) + Math.Pow(10, 9.4)) / 2), forecast.Equivalent, 0.02);
        Assert.Equal(forecast.Equivalent + 10 * Math.Log10(80.0 / 900), forecast.Quarter, 0.02);
        Assert.Equal(40 / NoiseDose.Allowed(84).Value + 40 / NoiseDose.Allowed(94).Value, forecast.Dose, 0.0002);
    }

    [Fact]
    public void Without_a_calibration_there_is_no_figure() => Assert.Null(ExposureForecast.Of(Calibrated(null), Track((1000, 0.1, 80))));

    [Fact]
    public void A_silent_stretch_calibrates_nothing() =>
        Assert.Null(ExposureForecast.Of(Calibrated(new Calibration(Position.Parse("1"), Position.Parse("3"), 84, default)), Track((1000, 0, 20), (1000, 0.1, 60))));

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private static PlanOnScore Calibrated(Calibration? calibration)
    {
        var sample = SampleSheet.Make(2).Plan;
        return PlanOnScore.Resolve(sample.Plan with { Hall = new Hall { Calibration = calibration } }, sample.Score);
    }

    private AWeightedTrack Track(params (double Hertz, double Amplitude, double Seconds)[] stretches) => AWeightedTrack.Of(Tone(stretches), TestContext.Current.CancellationToken);

    private StemFile Tone(params (double Hertz, double Amplitude, double Seconds)[] stretches)
    {
        var path = Path.Combine(_folder, "tone.wav");
        using (var writer = new StemWriter(path, new SoundFormat(48_000, 1)))
        {
            foreach (var (hertz, amplitude, seconds) in stretches)
                writer.Write([.. Enumerable.Range(0, (int)(seconds * 48_000)).Select(i => (float)(amplitude * Math.Sin(2 * Math.PI * hertz * i / 48_000)))]);
            writer.Finish();
        }
        return StemFile.Read(path);
    }
}
