using System.ComponentModel;
using System.Net;
using System.Text;
using Mixscore.Desk;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;
using Mixscore.Score;
using Mixscore.Screen;
using Mixscore.Steps;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary><c>practice-desk --map MAP</c>: behaves like a motor-fader desk that speaks a map.</summary>
internal sealed class PracticeDeskVerb(Terminal terminal) : AsyncCommand<PracticeDeskVerb.Settings>
{
    internal sealed class Settings : CommandSettings
    {
        [CommandOption("--map <MAP>", isRequired: true)]
        [Description("The desk map that it speaks; of several in the file, the first.")]
        public required string Map { get; init; }

        [CommandOption("--late <MS>")]
        [Description("How late it reports a move, in milliseconds.")]
        [DefaultValue(40)]
        public int Late { get; init; }

        [CommandOption("--places <N>")]
        [Description("How many places its faders have.")]
        [DefaultValue(1024)]
        public int Places { get; init; }

        [CommandOption("--control <UDP>")]
        [Description("Take orders by OSC too, as text in any message, at udp://host:port.")]
        public string? Control { get; init; }
    }

    public override async Task<int> ExecuteAsync(CommandContext context, Settings settings, CancellationToken cancellation)
    {
        var map = DeskMapReader.Read(settings.Map)[0];
        if (settings.Late is < 0 or > 10_000) throw Wrong("--late", $"{settings.Late} ms is no lateness", "write 0 to 10000");
        if (settings.Places is < 2 or > 65536) throw Wrong("--places", $"{settings.Places} places are no fader", "write 2 to 65536");
        var habits = new PracticeHabits { Late = TimeSpan.FromMilliseconds(settings.Late), Places = settings.Places };
        using var run = new PracticeRun(map, habits, TimeProvider.System, terminal.Say);
        using var control = settings.Control is { } at ? Listen(at, run) : null;
        terminal.Say($"{map.Title}: practising at {map.To}{(map.Listen is { } listen ? $", answering {listen}" : "")}. {char.ToUpperInvariant(PracticeOrder.Forms[0])}{PracticeOrder.Forms[1..]}.");
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        var orders = Task.Run(() => Read(terminal.In, run, ended), CancellationToken.None);
        await run.UntilAsync(ended.Token);
        terminal.Say(run.Summary);
        // A person's line that is being waited for cannot be called off; the end of the program ends it.
        await Task.WhenAny(orders, Task.Delay(TimeSpan.FromMilliseconds(50), CancellationToken.None));
        return ExitCode.Good;
    }

    private static void Read(TextReader input, PracticeRun run, CancellationTokenSource ended)
    {
        while (!ended.IsCancellationRequested && input.ReadLine() is { } line)
            if (!run.Obey(line)) break;
        try
        {
            ended.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // It had ended already.
        }
    }

    private static OscUdp Listen(string at, PracticeRun run)
    {
        if (!Endpoint.TryParse(at, out var endpoint, out var problem) || endpoint!.Carrier != Carrier.Udp || !IPAddress.TryParse(endpoint.Host, out var address))
            throw Wrong("--control", problem ?? $"\"{at}\" is not udp:// with an address", "write udp://127.0.0.1:9100");
        return new OscUdp(new IPEndPoint(address, endpoint.Port), (packet, _) =>
        {
            var reader = new OscReader(packet);
            while (reader.NextMessage())
                if (reader.TryReadText(out var text)) run.Obey(Encoding.UTF8.GetString(text));
        });
    }

    private static InputException Wrong(string option, string found, string remedy) => new(new Fault("MX396", new Place(option), found, remedy));
}
