using System.Globalization;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>align PLAN</c>: what lines up sites, loudspeakers and pictures.</summary>
internal sealed class AlignVerb(Terminal terminal) : AsyncCommand<PlanSettings>
{
    public override async Task<int> ExecuteAsync(CommandContext context, PlanSettings settings, CancellationToken cancellation)
    {
        var plan = PlanReader.Read(OpenProject.FindPlan(settings.Plan));
        var alignment = HallAlignment.Of(plan);
        if (settings.Json) await terminal.Plain.WriteAsync(Json(plan, alignment) + "\n");
        else Show(plan, alignment);
        return ExitCode.Good;
    }

    private static string Json(MixPlan plan, HallAlignment alignment) => JsonOut.Text(new
    {
        strips = alignment.Strips.Select(strip => new { source = strip.Source.Name, strip = strip.Source.Strip, linkMs = Ms(strip.Source.Site.Link.Delay), delayMs = Ms(strip.Delay) }),
        temperature = plan.Hall.Temperature,
        speakers = alignment.Loudspeakers.Select(one => new { speaker = one.Loudspeaker.Name, metres = one.Loudspeaker.Metres, travelMs = Ms(one.Travel), delayMs = Ms(one.Delay) }),
        pictures = alignment.Pictures.Select(one => new { site = one.Site.Name, pictureMs = Ms(one.Site.Link.Picture!.Value), soundLeadsMs = Ms(one.Lead), verdict = Words(one.Verdict) }),
    });

    private void Show(MixPlan plan, HallAlignment alignment)
    {
        var strips = Tables.Plain("Source", "Strip", "Link", "Delay to add");
        foreach (var (source, delay) in alignment.Strips) strips.AddRow(Markup.Escape(source.Name), $"{source.Strip}", Spoken(source.Site.Link.Delay), Spoken(delay));
        terminal.Out.Write(strips);
        if (alignment.Loudspeakers.Count > 0)
        {
            terminal.Say(string.Create(CultureInfo.InvariantCulture, $"Sound travels at {SpeedOfSound.At(plan.Hall.Temperature):0.0} m/s at {plan.Hall.Temperature:0.#} degrees (ISO 9613-1)."));
            var speakers = Tables.Plain("Loudspeaker", "Distance", "Arrives after", "Delay to add");
            foreach (var (speaker, travel, delay) in alignment.Loudspeakers) speakers.AddRow(Markup.Escape(speaker.Name), string.Create(CultureInfo.InvariantCulture, $"{speaker.Metres:0.##} m"), Spoken(travel), Spoken(delay));
            terminal.Out.Write(speakers);
        }
        foreach (var (site, lead, verdict) in alignment.Pictures)
            terminal.Say($"{site.Name}: lined up, its sound {(lead.Value >= 0 ? "leads" : "lags")} its picture by {Spoken(new Seconds(Math.Abs(lead.Value)))}: {Words(verdict)} (Rec. ITU-R BT.1359-1: seen beyond 45 ms early or 125 ms late, not accepted beyond 90 or 185).");
    }

    private static string Words(PictureVerdict verdict) => verdict switch
    {
        PictureVerdict.Together => "together",
        PictureVerdict.Detectable => "it can be seen",
        _ => "too far apart",
    };

    private static double Ms(Seconds time) => Math.Round(time.Value * 1000, 3);

    private static string Spoken(Seconds time) => string.Create(CultureInfo.InvariantCulture, $"{Ms(time):0.##} ms");
}
