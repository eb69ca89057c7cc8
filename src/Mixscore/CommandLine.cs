using Mixscore.Audio;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Verbs;
using Spectre.Console.Cli;

namespace Mixscore;

/// <summary>The verbs, in the order of the work, and the exit code that each end of a run has.</summary>
internal static class CommandLine
{
    internal static async Task<int> RunAsync(string[] args, Terminal terminal, CancellationToken cancellation)
    {
        // A wrong verb or option is told by the parser before any verb runs; what a verb throws is told below.
        var app = new CommandApp(new VerbRegistrar(terminal));
        app.Configure(config =>
        {
            config.SetApplicationName("mixscore");
            config.SetApplicationVersion(typeof(CommandLine).Assembly.GetName().Version!.ToString(3));
            config.UseStrictParsing();
            config.PropagateExceptions();
            config.ConfigureConsole(terminal.Out);
            config.Settings.ShowOptionDefaultValues = true;
            config.Settings.TrimTrailingPeriod = false;
            config.Settings.MaximumIndirectExamples = 0;

            config.AddCommand<DemoVerb>("demo").WithDescription("Lay out the demo piece, make its stems, and run the whole job on it.").WithExample("demo").WithExample("demo", "my-ferry");
            config.AddCommand<StartVerb>("start").WithDescription("Begin a project from a score.").WithExample("start", "crossing", "--score", "crossing.musicxml");
            config.AddCommand<ReadVerb>("read").WithDescription("Say what the score says: bars as played, meters, tempo, letters, dynamics.").WithExample("read", "crossing.musicxml").WithExample("read", "crossing.mix.yaml", "--json");
            config.AddCommand<DraftVerb>("draft").WithDescription("Write first marks from the score's dynamics; never over a mark that a person wrote.").WithExample("draft", "crossing.mix.yaml");
            config.AddCommand<MeasureVerb>("measure").WithDescription("Measure every stem: loudness, peaks, when it plays, dropouts, noise of the link.").WithExample("measure", "crossing.mix.yaml");
            config.AddCommand<FitVerb>("fit").WithDescription("Find the rides: the fewest vertices that keep every source within its level.").WithExample("fit", "crossing.mix.yaml");
            config.AddCommand<CheckVerb>("check").WithDescription("Render the mix and measure it against the marks; exit 1 when it falls short.").WithExample("check", "crossing.mix.yaml").WithExample("check", "crossing.mix.yaml", "--recording", "hall.wav");
            config.AddCommand<WriteVerb>("write").WithDescription("Write the automation for a desk (a Standard MIDI File, OSC) and the click for the players.").WithExample("write", "crossing.mix.yaml", "--desk", "hall.desk.yaml").WithExample("write", "crossing.mix.yaml", "--only", "click", "--ltc", "25");
            config.AddCommand<AlignVerb>("align").WithDescription("Tell the delays that line up strips and loudspeakers, and how the sound stands to the pictures.").WithExample("align", "crossing.mix.yaml");
            config.AddCommand<DeskVerb>("desk").WithDescription("Check a desk map, show its law, and find out which fader a strip is.").WithExample("desk", "hall.desk.yaml").WithExample("desk", "hall.desk.yaml", "--try", "3");
            config.AddCommand<PracticeDeskVerb>("practice-desk").WithDescription("Behave like a motor-fader desk that speaks a map, to rehearse at home.").WithExample("practice-desk", "--map", "hall.desk.yaml");
            config.AddCommand<RehearseVerb>("rehearse").WithDescription("Show the score with its levels, and play the stems through the plan.").WithExample("rehearse", "crossing.mix.yaml").WithExample("rehearse", "crossing.mix.yaml", "--port", "8080", "--no-open");
            config.AddCommand<PerformVerb>("perform").WithDescription("The live run: follow a clock, move the desk, obey the hand, keep a log. Nothing is sent until armed.").WithExample("perform", "crossing.mix.yaml", "--desk", "hall.desk.yaml").WithExample("perform", "crossing.mix.yaml", "--desk", "hall.desk.yaml", "--clock", "mtc", "--no-page", "--control", "udp://127.0.0.1:9100");
            config.AddCommand<LogVerb>("log").WithDescription("Say what happened in a night, by bar.").WithExample("log", "log/2026-11-25T20-00-00.log.jsonl").WithExample("log", "log/2026-11-25T20-00-00.log.jsonl", "--report", "night.html");
            config.AddCommand<FoldVerb>("fold").WithDescription("Bring what the hands did into the plan, as proposals; nothing is changed that is not accepted.").WithExample("fold", "crossing.mix.yaml", "log/2026-11-25T20-00-00.log.jsonl").WithExample("fold", "crossing.mix.yaml", "log/2026-11-25T20-00-00.log.jsonl", "log/2026-11-26T20-00-00.log.jsonl", "--json");
            config.AddCommand<CompareVerb>("compare").WithDescription("Say how two versions of a plan, or two nights, differ, in musical places.").WithExample("compare", "before.mix.yaml", "crossing.mix.yaml", "--report", "versions.html").WithExample("compare", "log/2026-11-25T20-00-00.log.jsonl", "log/2026-11-26T20-00-00.log.jsonl");
            config.AddCommand<LoudnessVerb>("loudness").WithDescription("Measure any WAV by ITU-R BS.1770 and EBU Tech 3341/3342.").WithExample("loudness", "mix.wav").WithExample("loudness", "*.wav", "--json");
        });

        try
        {
            return await app.RunAsync(args, cancellation);
        }
        catch (CommandAppException usage)
        {
            return terminal.Fail(ExitCode.BadInput, usage.Message, "mixscore --help lists the verbs, mixscore VERB --help what a verb takes");
        }
        catch (InputException input)
        {
            return terminal.Fail(ExitCode.BadInput, input.Faults);
        }
        catch (UnavailableException unavailable)
        {
            return terminal.Fail(ExitCode.Unavailable, unavailable.Faults);
        }
        catch (OperationCanceledException)
        {
            return terminal.Fail(ExitCode.Interrupted, "stopped", "nothing is half-written");
        }
        catch (Exception failure) when (failure is IOException or UnauthorizedAccessException)
        {
            return terminal.Fail(ExitCode.Unavailable, failure.Message, failure is FileNotFoundException or DirectoryNotFoundException ? "look at the path" : "look at the disk and at who may write there");
        }
        catch (Exception bug)
        {
            return terminal.Fail(ExitCode.Broken, $"Mixscore itself failed: {bug.Message}", "please report it, with the command and the files");
        }
    }
}
