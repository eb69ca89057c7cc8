using System.ComponentModel;
using System.Globalization;
using System.Net;
using System.Runtime;
using Mixscore.Desk;
using Mixscore.Live;
using Mixscore.Project;
using Mixscore.Protocols.Midi;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>perform PLAN --desk MAP</c>: the live run.</summary>
internal sealed class PerformVerb(Terminal terminal) : AsyncCommand<PerformVerb.Settings>
{
    internal sealed class Settings : PageSettings
    {
        [CommandOption("--desk <MAP>", isRequired: true)]
        [Description("A desk map (*.desk.yaml); as often as there are desks.")]
        public required string[] Desks { get; init; }

        [CommandOption("--controller <MAP>")]
        [Description("A map of faders that are no desk's: they take and move sources by their strips, from where they meet them.")]
        public string[]? Controllers { get; init; }

        [CommandOption("--clock <KIND>")]
        [Description("What tells where the piece is: click, mtc, midi, osc or ltc.")]
        [DefaultValue("click")]
        public string Clock { get; init; } = "click";

        [CommandOption("--clock-from <WHERE>")]
        [Description("Where the code comes from: rtp-midi://HOST:PORT, midi:DEVICE, midi:- (piped in); for ltc a WAV, or - for one piped in. Without it a MIDI desk's own wire.")]
        public string? ClockFrom { get; init; }

        [CommandOption("--zero <LABEL>")]
        [Description("The timecode at which bar 1 begins; without it 00:00:00:00, or the whole hour that code past the end of the piece lies in.")]
        public string? Zero { get; init; }

        [CommandOption("--carry <SECONDS>")]
        [Description("How long a clock that stops is carried on before faders are held.")]
        [DefaultValue(2.0)]
        public double Carry { get; init; } = 2;

        [CommandOption("--count-in <BARS>")]
        [Description("Bars counted in by the own click; without it as the plan's click: says, as in the players' click track.")]
        public int? CountIn { get; init; }

        [CommandOption("--back <BEATS>")]
        [Description("Over how many beats a fader that is handed back returns.")]
        [DefaultValue(4.0)]
        public double Back { get; init; } = 4;

        [CommandOption("--arm")]
        [Description("Move faders from the beginning; without it nothing is sent until armed.")]
        public bool Arm { get; init; }

        [CommandOption("--resume")]
        [Description("Go on from the state that the newest log ends in.")]
        public bool Resume { get; init; }

        [CommandOption("--spare-of <HOST:PORT>")]
        [Description("Follow the run whose control port this is, send nothing, and take over when it falls silent and the desk no longer does what the plan wants.")]
        public string? SpareOf { get; init; }

        [CommandOption("--no-page")]
        [Description("Without the page: control by OSC and from the terminal.")]
        public bool NoPage { get; init; }

        [CommandOption("--control <UDP>")]
        [Description("Take control by OSC at udp://HOST:PORT.")]
        public string? Control { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var kind = KindOf(settings);
        var served = settings.Page();
        var maps = settings.Desks.SelectMany(DeskMapReader.Read).ToArray();
        var project = OpenProject.Open(settings.Plan, settings.InHall);
        var live = await LiveStep.RunAsync(project, terminal, cancellation);
        if (live.Warning is { } warning) terminal.Say($"Note: {warning}.");
        var options = new SessionOptions
        {
            Desks = maps,
            Controllers = [.. (settings.Controllers ?? []).SelectMany(DeskMapReader.Read)],
            Clock = kind,
            ClockFrom = kind is ClockKind.Mtc or ClockKind.Midi && settings.ClockFrom is { } from ? ClockEnd(from) : null,
            Sound = kind == ClockKind.Ltc ? OpenSound(settings.ClockFrom) : null,
            Zero = settings.Zero is { } label ? Label(label) : null,
            Carry = TimeSpan.FromSeconds(Within("--carry", settings.Carry, 0, 3600)),
            Run = new RunSettings { CountInBars = settings.CountIn is { } bars ? (int)Within("--count-in", bars, 0, 16) : null, BackBeats = Within("--back", settings.Back, 0, 256) },
            Control = settings.Control is { } at ? ControlEnd(at) : null,
            SpareOf = settings.SpareOf is { } first ? FirstEnd(first, settings) : null,
            Plan = project.Plan.File,
            PlanKey = live.Key,
            LogFolder = Path.Combine(project.Plan.Folder, "log"),
            IsArmed = settings.Arm,
            Resumes = settings.Resume,
        };
        // A collection of the whole heap would stop the run's thread for longer than a tick can wait.
        GCSettings.LatencyMode = GCLatencyMode.SustainedLowLatency;
        using var session = LiveSession.Open(live.Plan, options, TimeProvider.System);
        using var screen = new LiveScreen(terminal, session, project.Plan.Title);
        if (settings.NoPage) return await screen.UntilAsync(cancellation);
        await using var page = new PerformedPage(session, kind, screen.Say);
        page.Open(project, terminal, served, opensBrowser: !settings.NoOpen);
        return await screen.UntilAsync(cancellation);
    }

    private static ClockKind KindOf(Settings settings) => settings.Clock switch
    {
        "click" => ClockKind.Click,
        "mtc" => ClockKind.Mtc,
        "midi" => ClockKind.Midi,
        "osc" when settings.Control is null => throw Wrong("--clock", "a clock by OSC comes over the control port, and there is none", "say --control udp://127.0.0.1:9100"),
        "osc" => ClockKind.Osc,
        "ltc" => ClockKind.Ltc,
        _ => throw Wrong("--clock", $"\"{settings.Clock}\" is no clock", "write click, mtc, midi, osc or ltc"),
    };

    private static Endpoint ClockEnd(string text) => Endpoint.TryParse(text, out var end, out var problem) && end!.Carrier is Carrier.RtpMidi or Carrier.MidiDevice
        ? end
        : throw Wrong("--clock-from", problem ?? $"{text} carries no MIDI", "write rtp-midi://HOST:PORT, midi:DEVICE, or midi:- for what is piped in");

    private static Stream OpenSound(string? from) => from switch
    {
        null => throw Wrong("--clock-from", "linear timecode comes as sound, and none is named", "name a WAV, or - for one piped in"),
        "-" => Console.OpenStandardInput(),
        _ => File.OpenRead(from),
    };

    private static IPEndPoint ControlEnd(string text) =>
        Endpoint.TryParse(text, out var end, out var problem) && end!.Carrier == Carrier.Udp && IPAddress.TryParse(end.Host, out var address)
            ? new IPEndPoint(address, end.Port)
            : throw Wrong("--control", problem ?? $"\"{text}\" is not udp:// with an address", "write udp://127.0.0.1:9100");

    private static IPEndPoint FirstEnd(string text, Settings settings)
    {
        if (settings.Arm || settings.Resume) throw Wrong("--spare-of", "a spare holds the state of the run that it follows", "leave out --arm and --resume");
        return Endpoint.TryParse(text.Contains("://", StringComparison.Ordinal) ? text : $"udp://{text}", out var end, out var problem) && end!.Carrier == Carrier.Udp
            ? DeskLink.Resolve(end)
            : throw Wrong("--spare-of", problem ?? $"\"{text}\" is no host with a port", "write the other run's control port, such as 192.0.2.10:9100");
    }

    private static Timecode Label(string text)
    {
        var parts = text.Split(':', ';');
        if (parts.Length == 4 && parts.All(part => int.TryParse(part, NumberStyles.None, CultureInfo.InvariantCulture, out _)))
        {
            var numbers = parts.Select(part => int.Parse(part, CultureInfo.InvariantCulture)).ToArray();
            foreach (var rate in new[] { TimecodeRate.Frames25, TimecodeRate.Frames30 })
                if (Timecode.IsLabel(rate, numbers[0], numbers[1], numbers[2], numbers[3])) return new Timecode(rate, numbers[0], numbers[1], numbers[2], numbers[3]);
        }
        throw Wrong("--zero", $"\"{text}\" is no label", "write hours, minutes, seconds and frames, such as 01:00:00:00");
    }

    private static double Within(string option, double value, double least, double most) =>
        value >= least && value <= most ? value : throw Wrong(option, string.Create(CultureInfo.InvariantCulture, $"{value} is out of range"), string.Create(CultureInfo.InvariantCulture, $"write {least} to {most}"));

    private static InputException Wrong(string option, string found, string remedy) => new(new Fault("MX406", new Place(option), found, remedy));
}
