using System.Globalization;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Steps;

namespace Mixscore.Screen;

/// <summary>Where the piece begins in recordings, and what to write in the plan, told to a person or as JSON.</summary>
internal static class LineUpReport
{
    internal static int Clicks(Terminal terminal, IReadOnlyList<LineUpStep.Found> found, OpenProject project, bool json)
    {
        if (json)
            terminal.Plain.Write(JsonOut.Text(found.Select(one => new
            {
                source = one.Source.Name,
                stem = one.Source.Stem,
                channel = one.Click?.Channel,
                startSeconds = one.Click is { } click ? Math.Round(click.Found.Start.Value, 6) : (double?)null,
                driftPpm = one.Click is { } drifting ? Math.Round(drifting.Found.Drift, 3) : (double?)null,
                heard = one.Click?.Found.Heard,
                expected = one.Click?.Found.Expected,
            })) + "\n");
        else
            foreach (var one in found) Say(terminal, one, project.Timeline.Duration);
        return ExitCode.Good;
    }

    internal static int OneStem(Terminal terminal, string source, (Seconds Start, double? Likeness) found, bool json)
    {
        if (json) terminal.Plain.Write(JsonOut.Text(new { source, startSeconds = Math.Round(found.Start.Value, 6), likeness = found.Likeness is { } like ? Math.Round(like, 3) : (double?)null }) + "\n");
        else
            terminal.Say($"{source}: write start: {Number(found.Start.Value)} s{(found.Likeness is { } likeness ? string.Create(CultureInfo.InvariantCulture, $" (the two takes are alike by {likeness:0.00} of 1 there)") : "")}");
        return ExitCode.Good;
    }

    private static void Say(Terminal terminal, LineUpStep.Found one, Seconds duration)
    {
        if (one.Click is not { } click)
        {
            terminal.Say($"{one.Source.Name}: no click in {one.Source.Stem}; line it up with --line-up {one.Source.Name}");
            return;
        }
        var (start, drift) = (click.Found.Start.Value, click.Found.Drift);
        terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{one.Source.Name}: the click is on channel {click.Channel} of {one.Source.Stem}, {click.Found.Heard} of {click.Found.Expected} strokes heard; the piece begins at {start:0.0000} s; the clock runs {Math.Abs(drift):0.0} ppm {(drift >= 0 ? "fast" : "slow")}, {Math.Abs(drift) * duration.Value / 1000:0.0} ms by the end"));
        var delay = one.Source.Site.Link.Delay.Value;
        terminal.Say($"  write start: {Number(start)} s where the click was recorded in the hall, start: {Number(start - delay)} s where it was recorded at {one.Source.Site.Name}, before the link; and channel: for the one that holds the feed");
    }

    private static string Number(double seconds) => seconds.ToString("0.0000", CultureInfo.InvariantCulture);
}
