using System.ComponentModel;
using System.Net;
using Mixscore.Page;
using Mixscore.Score;
using Spectre.Console.Cli;

namespace Mixscore.Verbs;

/// <summary>What the verbs take that serve the page.</summary>
internal class PageSettings : HallSettings
{
    [CommandOption("--port <N>")]
    [Description("Where the page is served on this machine; 0 for any port that is free. Without it a port of the project's own, the same each time where it is free.")]
    public int? Port { get; init; }

    [CommandOption("--no-open")]
    [Description("Do not open a browser.")]
    public bool NoOpen { get; init; }

    [CommandOption("--listen <ADDRESS>")]
    [Description("Serve the page to a network too: the address of this machine there, or all. Whoever comes from there must know a pass phrase, which is printed.")]
    public string? Listen { get; init; }

    [CommandOption("--pass-phrase <TEXT>")]
    [Description("The pass phrase for --listen, at least 12 characters; without it a new one each time.")]
    public string? PassPhrase { get; init; }

    /// <summary>How the page is to be served.</summary>
    /// <exception cref="InputException">It cannot be served so.</exception>
    internal PageOptions Page()
    {
        if (Port is < 0 or > 65535) throw Wrong("--port", $"{Port} is no port", "write 0 to 65535");
        if (Listen is null)
            return PassPhrase is null ? new PageOptions { Port = Port } : throw Wrong("--pass-phrase", "a pass phrase is for the network, and there is none", "say --listen with this machine's address, too");
        var address = Listen == "all" ? IPAddress.Any : IPAddress.TryParse(Listen, out var named) ? named : throw Wrong("--listen", $"\"{Listen}\" is no address", "write this machine's address, such as 192.168.1.20, or all");
        if (address.Equals(IPAddress.Loopback)) return new PageOptions { Port = Port };
        return new PageOptions { Port = Port, Listen = address, PassPhrase = Phrase() };
    }

    private PassPhrase Phrase()
    {
        if (PassPhrase is null) return Mixscore.Page.PassPhrase.New();
        try
        {
            return Mixscore.Page.PassPhrase.Of(PassPhrase);
        }
        catch (ArgumentException)
        {
            throw Wrong("--pass-phrase", "it is too short to keep anybody out", $"take at least {Mixscore.Page.PassPhrase.Shortest} characters");
        }
    }

    private static InputException Wrong(string option, string found, string remedy) => new(new Fault("MX501", new Place(option), found, remedy));
}
