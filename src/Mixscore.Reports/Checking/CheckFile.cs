using System.Text.Json;

namespace Mixscore.Reports;

/// <summary><c>out/check.json</c>: the contract of the check. Keys are added, never renamed.</summary>
public static class CheckFile
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, Encoder = System.Text.Encodings.Web.JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>The file's text.</summary>
    public static string Write(CheckResult result) => JsonSerializer.Serialize(new
    {
        verdict = result.IsGood ? "good" : "short",
        because = result.Because,
        mix = new { integrated = Rounded(result.Mix.Integrated?.Value), range = Rounded(result.Mix.Range?.Value), truePeak = Rounded(result.Mix.TruePeak?.Value), lowering = Rounded(result.Mix.Lowering?.Value) },
        exposure = result.Exposure is { } exposure ? new
        {
            equivalent = Rounded(exposure.Equivalent),
            quarterHour = Rounded(exposure.Quarter),
            dosePercent = Rounded(100 * exposure.Dose),
            calibrated = exposure.Calibrated,
            caution = ExposureForecast.Caution,
        } : null,
        sources = result.Sources.Select(source => new
        {
            source = source.Source.Name,
            beatsActive = source.BeatsActive,
            beatsWithin = source.BeatsWithin,
            bars = source.Bars.Select(bar => new
            {
                index = bar.Bar.Index,
                bar = bar.Bar.Label,
                pass = bar.Bar.Pass,
                target = Rounded(bar.Target?.Value),
                heard = Rounded(bar.Heard?.Value),
                within = bar.Within,
            }),
        }),
        clarity = result.Clarity.Select(bar => new
        {
            index = bar.Bar.Index,
            bar = bar.Bar.Label,
            pass = bar.Bar.Pass,
            lead = bar.Lead,
            over = Rounded(bar.Over?.Value),
            asked = Rounded(bar.Asked?.Value),
            voices = bar.Voices.Select(voice => new { source = voice.Source, index = Rounded(voice.Index) }),
        }),
        recording = result.Recording is { } recording ? new
        {
            file = recording.File,
            startSeconds = Rounded(recording.Place.Start.Value),
            driftPpm = Rounded(recording.Place.Drift),
            by = $"{recording.Place.By}".ToLowerInvariant(),
            agree = Rounded(recording.Place.Agree),
            gain = Rounded(recording.Gain?.Value),
            barsTold = recording.Told,
            barsWithin = recording.Within,
            bars = recording.Bars.Select(bar => new
            {
                index = bar.Bar.Index,
                bar = bar.Bar.Label,
                pass = bar.Bar.Pass,
                asked = Rounded(bar.Asked?.Value),
                low = Rounded(bar.Low?.Value),
                high = Rounded(bar.High?.Value),
                rendered = Rounded(bar.Rendered?.Value),
                recorded = Rounded(bar.Recorded?.Value),
                within = bar.Within,
            }),
        } : null,
    }, Indented) + "\n";

    private static double? Rounded(double? value) => value is { } v ? Math.Round(v, 4) : null;
}
