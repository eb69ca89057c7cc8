using System.Net;
using System.Net.Sockets;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>The demo laid out, with a practice desk at ports of its own. Begun once for all tests.</summary>
public sealed class EveningDemo : IAsyncLifetime
{
    private static readonly string[] Quiet =
        ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

    private IPlaywright? _playwright;

    internal string Folder { get; } = Path.Combine(Path.GetTempPath(), "mixscore-evening-" + Guid.NewGuid().ToString("n")[..8]);

    internal string Map => Path.Combine(Folder, "hall-osc.desk.yaml");

    internal string Plan => Path.Combine(Folder, "night-ferry.mix.yaml");

    public async ValueTask InitializeAsync()
    {
        if (!RehearsedDemo.IsWanted) return;
        await RunningVerb.RunAsync("demo", Folder);
        var text = await File.ReadAllTextAsync(Map);
        await File.WriteAllTextAsync(Map, text.Replace(":9000", $":{FreePort()}", StringComparison.Ordinal).Replace(":9001", $":{FreePort()}", StringComparison.Ordinal));
        _playwright = await Playwright.CreateAsync();
    }

    public ValueTask DisposeAsync()
    {
        _playwright?.Dispose();
        if (Directory.Exists(Folder)) Directory.Delete(Folder, recursive: true);
        return ValueTask.CompletedTask;
    }

    internal static int FreePort()
    {
        using var socket = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        return ((IPEndPoint)socket.Client.LocalEndPoint!).Port;
    }

    internal RunningVerb Desk() => RunningVerb.Begin("practice-desk", "--map", Map);

    internal RunningVerb Perform(params string[] more) => RunningVerb.Begin(["perform", Folder, "--desk", Map, "--no-open", .. more]);

    internal Task<IBrowser> BrowserAsync(params string[] more) => _playwright!.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = "/usr/bin/chromium", Args = [.. Quiet, .. more], IgnoreDefaultArgs = ["--hide-scrollbars"] });

    internal static async Task<OpenPage> OpenAsync(IBrowser browser, string address, int width = 1280, int height = 800, ColorScheme theme = ColorScheme.Dark, bool withTools = false)
    {
        var context = await browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = width, Height = height }, ColorScheme = theme, BypassCSP = withTools });
        var page = new OpenPage(context, await context.NewPageAsync());
        await page.Page.GotoAsync(address);
        await page.UntilAsync("() => document.querySelector('.page:not(.lost)')");
        return page;
    }
}
