using System.ComponentModel;
using System.Globalization;
using Mixscore.Desk;
using Mixscore.Score;
using Mixscore.Screen;
using Spectre.Console;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>desk MAP</c>: checks a desk map, shows its law, and finds out which fader a strip is.</summary>
internal sealed class DeskVerb(Terminal terminal) : AsyncCommand<DeskVerb.Settings>
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);

    internal sealed class Settings : CommandSettings
    {
        [CommandArgument(0, "<MAP>")]
        [Description("A desk map (*.desk.yaml).")]
        public required string Map { get; init; }

        [CommandOption("--try <STRIP>")]
        [Description("Move this strip's fader down and up by a little, never above -20 dB; asks first.")]
        public int? Try { get; init; }

        [CommandOption("--yes")]
        [Description("With --try: do not ask.")]
        public bool Yes { get; init; }

        [CommandOption("--json")]
        [Description("Write the figures as JSON.")]
        public bool Json { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var maps = DeskMapReader.Read(settings.Map);
        if (settings.Json) JsonOut.Write(terminal, maps.Select(Figures));
        else foreach (var map in maps) Show(map);
        if (settings.Try is { } strip)
            foreach (var map in maps) await TryAsync(map, strip, settings, cancellation);
        return ExitCode.Good;
    }

    private static object Figures(DeskMap map)
    {
        var table = new LawTable(map.Fader.Law);
        return new
        {
            title = map.Title,
            protocol = map.Protocol == DeskProtocol.Osc ? "osc" : "midi",
            to = map.To.ToString(),
            listen = map.Listen?.ToString(),
            firstStrip = map.Fader.Control.NameOf(1),
            mute = map.Mute?.Control.NameOf(1),
            meter = map.Meter?.Reported.NameOf(1),
            places = table.Places,
            coarsestStep = JsonOut.Rounded(table.Coarsest.Value, 8),
            finestStep = JsonOut.Rounded(table.Finest.Value, 8),
            worstRounding = JsonOut.Rounded(table.WorstRounding.Value, 8),
            off = map.Fader.Law.Off,
            law = table.Rows.Where(row => row.Gain is not null).Select(row => new
            {
                db = row.Gain!.Value.Value,
                value = row.Value,
                back = JsonOut.Rounded(row.Back?.Value, 8),
                step = JsonOut.Rounded(row.Step?.Value, 8),
                point = row.IsPoint,
            }),
        };
    }

    private void Show(DeskMap map)
    {
        var culture = CultureInfo.InvariantCulture;
        var law = new LawTable(map.Fader.Law);
        terminal.Say($"{map.Title}: {(map.Protocol == DeskProtocol.Osc ? "OSC" : "MIDI")} to {map.To}{(map.Listen is { } listen ? $", heard at {listen}" : "")}");
        terminal.Say($"  Strip 1: fader {map.Fader.Control.NameOf(1) ?? "without an address"}{(map.Mute is { } mute ? $", mute {mute.Control.NameOf(1)}" : "")}{(map.Meter is { } meter ? $", meter {meter.Reported.NameOf(1)}" : "")}");
        var table = Tables.Plain("Gain", "On the wire", "Comes back as", "Next number is");
        foreach (var row in law.Rows)
            table.AddRow(
                row.Gain is { } gain ? string.Create(culture, $"{gain.Value:0.##} dB") : "off",
                row.Value.ToString("0.######", culture),
                row.Back is { } back ? string.Create(culture, $"{back.Value:0.0###} dB") : "off",
                row.Step is { } step ? string.Create(culture, $"{step.Value:0.0#####} dB away") : Tables.None);
        terminal.Out.Write(table);
        foreach (var line in LawPlot.Lines(map.Fader.Law)) terminal.Say(line);
        terminal.Say(string.Create(culture, $"  {(law.Places is { } places ? $"{places} numbers" : "Real numbers")}; at worst {law.Coarsest.Value:0.0#####} dB apart, so a gain is met within {law.WorstRounding.Value:0.0#####} dB."));
        terminal.Say();
    }

    private async Task TryAsync(DeskMap map, int strip, Settings settings, CancellationToken cancellation)
    {
        if (strip < 1 || map.Fader.Control.ProblemOf(strip) is not null)
            throw new InputException(new Fault("MX393", map.Fader.Place, $"strip {strip} has no address on {map.Title}", "name a strip that the map reaches"));
        var nudge = StripNudge.Of(map.Fader.Law);
        if (nudge.Count == 0)
            throw new InputException(new Fault("MX394", map.Fader.Place, "the law has no gain below -20 dB, above which no fader is tried", "let the law reach lower"));
        if (!settings.Yes && !Asks(map, strip))
            throw new InputException(new Fault("MX395", new Place("--try"), $"strip {strip} was not moved", "answer y, or say --yes where nobody can be asked"));
        using var link = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, _ => { });
        for (var waited = TimeSpan.Zero; !link.IsReady && waited < Patience; waited += StripNudge.Pace) await Task.Delay(StripNudge.Pace, cancellation);
        if (!link.IsReady) throw new IOException($"{map.Title} does not answer at {map.To}");
        foreach (var gain in nudge)
        {
            link.Send(new StripValue(strip, StripPart.Fader, map.Fader.Law.Sent(gain)));
            await Task.Delay(StripNudge.Pace, cancellation);
        }
        if (!settings.Json)
            terminal.Say(string.Create(CultureInfo.InvariantCulture, $"Strip {strip} went down to {nudge.Min().Value:0.#} dB and up again; it stands at {nudge[^1].Value:0.#} dB."));
    }

    private bool Asks(DeskMap map, int strip) =>
        terminal.IsInteractive && terminal.Out.Prompt(new ConfirmationPrompt(Markup.Escape($"Move strip {strip} of {map.Title}, never above -20 dB?")) { DefaultValue = false });
}
