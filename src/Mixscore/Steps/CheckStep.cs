using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>The mix rendered, measured, judged, and told in a report.</summary>
internal static class CheckStep
{
    internal static string MixPath(OpenProject project) => Path.Combine(project.Out, "mix.wav");

    internal static string ReportPath(OpenProject project) => Path.Combine(project.Out, "report.html");

    internal static async Task<CheckResult> RunAsync(OpenProject project, RidesStep.Result rides, Terminal terminal, CancellationToken cancellation, RecordingStep? recording = null)
    {
        var tracks = MixTrack.Of(project.Plan, rides.Measured.Stems, rides.Rides);
        Directory.CreateDirectory(project.Out);
        var mix = await WorkProgress.RunAsync(terminal, "rendering the mix", progress => Mixdown.Render(tracks, project.Timeline, MixPath(project), progress: progress, cancellation: cancellation));
        var asked = AskedOverTime.Of(project.Timeline, project.Plan.Limits, rides.Sources, rides.Rides);
        var heard = project.Plan.Sources.Select((source, i) => Heard(project, source, rides.Measured.Measured[i], rides.Fitted[i], asked[source.Name]));
        var figures = new CheckedMix(mix.Figures.Integrated, mix.Figures.Range, mix.Figures.TruePeak, project.Plan.Limits.TruePeak)
        {
            LoudnessLimit = project.Plan.Limits.Loudness,
            Reference = project.Plan.Reference,
        };
        var bands = await WorkProgress.RunAsync(terminal, "measuring clarity", _ => Bands(tracks, project, cancellation));
        var result = MixCheck.Judge(project.Timeline, figures, heard, project.OnScore.Leads, bands,
            (source, bar) => project.OnScore[source].Levels.SegmentAt(bar.Start).Mark?.Clear);

        if (project.OnScore.Calibrated is not null) result = result with { Exposure = ExposureForecast.Of(project.OnScore, AWeightedTrack.Of(StemFile.Read(MixPath(project)), cancellation)) };
        if (recording is not null) result = result with { Recording = await recording.RunAsync(project, result, MixPath(project), terminal, cancellation) };
        WholeFile.Write(Path.Combine(project.Out, "check.json"), CheckFile.Write(result));
        WholeFile.Write(ReportPath(project), Reports.ReportPage.Write(new ReportInput
        {
            Plan = project.Plan,
            Timeline = project.Timeline,
            Result = result,
            Warnings = [.. project.OnScore.Warnings.Concat(rides.Measured.Stems.Warnings).Concat(StemMeasure.Warnings(rides.Measured.Measured)).Select(warning => $"{Path.GetFileName(warning.Place.File)}: {warning.Found}{(warning.Remedy.Length > 0 ? "; " + warning.Remedy : "")}.")],
        }));
        return result;
    }

    private static BandTrace[] Bands(IReadOnlyList<MixTrack> tracks, OpenProject project, CancellationToken cancellation)
    {
        var bands = new BandTrace[tracks.Count];
        Parallel.For(0, bands.Length, new ParallelOptions { CancellationToken = cancellation, MaxDegreeOfParallelism = Environment.ProcessorCount },
            i => bands[i] = BandTrace.Of(tracks[i].Stem, tracks[i].Ride, project.Timeline.Tempo, tracks[i].Delay, cancellation));
        return bands;
    }

    private static MixCheck.Heard Heard(OpenProject project, Source source, MeasuredStem stem, FittedSource fitted, AskedOverTime asked)
    {
        var tempo = project.Timeline.Tempo;
        var delay = source.Site.Link.Delay;
        var stemEnergy = stem.Energy.Hops.ToArray();
        var hop = stem.Energy.HopSeconds;
        var n = stemEnergy.Length;
        var end = project.Timeline.End.ToDouble();
        var (target, low, high, within) = (new double[n], new double[n], new double[n], new double[n]);
        var marks = project.OnScore[source.Name].Levels;
        for (var i = 0; i < n; i++)
        {
            // Before the start and after the end the nearest marks hold, as rides do: a sound that rings on is not blamed for it.
            var at = Math.Clamp(tempo.QuartersAt(new Seconds((i + 0.5) * hop) - delay), 0, end);
            var levels = asked.At(at);
            within[i] = marks.SegmentAt(at).Within(source.Within).Value;
            (target[i], low[i], high[i]) = (Power(levels.Target), Power(levels.Low), Power(levels.High));
        }
        var trace = SourceCheck.Trace(new SourceCheck.Input
        {
            StemEnergy = stemEnergy,
            HeardEnergy = HeardTrace.Of(stem.Energy, fitted.Ride, tempo, delay).Hops.ToArray(),
            Plays = [.. stem.Measurement.ActiveHops(n, hop)],
            Asked = target,
            AskedLow = low,
            AskedHigh = high,
            Reference = project.Plan.Reference.Value,
            Within = within,
            Delay = delay,
            Window = source.Window,
        });
        return new MixCheck.Heard(source, fitted.Ride, trace, stem.Measurement.Integrated,
            [.. stem.Measurement.Drops.Select(drop => (drop.From, drop.To))],
            [.. fitted.Widened.Select(stretch => new WidenedNote(tempo.SecondsAt(stretch.From), tempo.SecondsAt(stretch.To), stretch.Text + "."))])
        {
            Bursts = [.. stem.Measurement.Bursts.Select(burst => (burst.From, burst.To))],
            Pinned = [.. project.OnScore[source.Name].Pins.Select(pin => (tempo.SecondsAt(pin.From), tempo.SecondsAt(pin.To)))],
        };
    }

    private static double Power(double? level) => level is { } value ? Math.Pow(10, value / 10) : 0;
}
