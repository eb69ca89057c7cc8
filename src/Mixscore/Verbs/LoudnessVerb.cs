using System.ComponentModel;
using Mixscore.Audio;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>loudness FILE…</c>: a plain meter for any WAV.</summary>
internal sealed class LoudnessVerb(Terminal terminal) : AsyncCommand<LoudnessVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<FILE>")]
        [Description("One or more WAV files.")]
        public required string[] Files { get; init; }

        [CommandOption("--json")]
        [Description("Write the figures as JSON.")]
        public bool Json { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var measured = await WorkProgress.RunAsync(terminal, "measuring", progress => Measure(settings.Files, progress, cancellation));
        if (settings.Json) JsonOut.Write(terminal, measured.Select(file => new
        {
            file = file.Name,
            channels = file.Stem.Format.Channels,
            sampleRate = file.Stem.Format.SampleRate,
            seconds = JsonOut.Rounded(file.Figures.Duration.Value, 6),
            integrated = JsonOut.Rounded(file.Figures.Integrated?.Value),
            range = JsonOut.Rounded(file.Figures.Range?.Value),
            maxMomentary = JsonOut.Rounded(file.Figures.MaxMomentary?.Value),
            maxShortTerm = JsonOut.Rounded(file.Figures.MaxShortTerm?.Value),
            truePeak = JsonOut.Rounded(file.Figures.TruePeak?.Value),
        }));
        else Show(measured);
        return ExitCode.Good;
    }

    private static List<(string Name, StemFile Stem, SoundFigures Figures)> Measure(string[] files, IProgress<double> progress, CancellationToken cancellation)
    {
        // Every header is read before any long work, so that a wrong name is told at once.
        var stems = files.Select(file => (Name: file, Stem: StemFile.Read(file))).ToList();
        var figures = new SoundFigures[stems.Count];
        var done = new double[stems.Count];
        Parallel.For(0, stems.Count, new ParallelOptions { CancellationToken = cancellation }, i =>
        {
            var own = new Inline(part =>
            {
                done[i] = part;
                progress.Report(done.Average());
            });
            figures[i] = SoundFigures.Of(stems[i].Stem, own, cancellation);
        });
        return [.. stems.Select((stem, i) => (stem.Name, stem.Stem, figures[i]))];
    }

    private void Show(IEnumerable<(string Name, StemFile Stem, SoundFigures Figures)> measured)
    {
        var table = Tables.Plain("File", "Integrated", "Range", "Max momentary", "Max short-term", "True peak", "Lasts", "Sound");
        foreach (var (name, stem, figures) in measured)
            table.AddRow(
                Markup.Escape(name),
                Tables.Lufs(figures.Integrated),
                Tables.Unit(figures.Range, "LU"),
                Tables.Lufs(figures.MaxMomentary),
                Tables.Lufs(figures.MaxShortTerm),
                Tables.Unit(figures.TruePeak, "dBTP"),
                Tables.Minutes(figures.Duration),
                $"{stem.Format.Channels} ch, {stem.Format.SampleRate / 1000.0:0.###} kHz");
        terminal.Out.Write(table);
    }

    private sealed class Inline(Action<double> report) : IProgress<double>
    {
        public void Report(double value) => report(value);
    }
}
