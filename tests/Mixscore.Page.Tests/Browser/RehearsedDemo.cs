using System.Diagnostics;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>The demo laid out and rehearsed by the program itself, and a browser to look at it. Begun once for all browser tests.</summary>
public sealed class RehearsedDemo : IAsyncLifetime
{
    private static readonly string[] Quiet =
        ["--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run", "--disable-background-networking", "--disable-component-update", "--disable-sync"];

    private Process? _server;
    private IPlaywright? _playwright;

    internal static bool IsWanted => Environment.GetEnvironmentVariable("MIXSCORE_OUTSIDE") == "1";

    internal string Folder { get; } = Path.Combine(Path.GetTempPath(), "mixscore-demo-" + Guid.NewGuid().ToString("n")[..8]);

    internal IBrowser Browser { get; private set; } = null!;

    internal string Address { get; private set; } = "";

    public async ValueTask InitializeAsync()
    {
        if (!IsWanted) return;
        using (var demo = Start("demo", Folder))
        {
            await demo.StandardOutput.ReadToEndAsync();
            await demo.WaitForExitAsync();
        }
        _server = Start("rehearse", Folder, "--no-open");
        while (await _server.StandardOutput.ReadLineAsync() is { } line)
            if (line.StartsWith("page: ", StringComparison.Ordinal))
            {
                Address = line["page: ".Length..];
                break;
            }
        _playwright = await Playwright.CreateAsync();
        Browser = await _playwright.Chromium.LaunchAsync(new BrowserTypeLaunchOptions { ExecutablePath = "/usr/bin/chromium", Args = Quiet, IgnoreDefaultArgs = ["--hide-scrollbars"] });
    }

    public async ValueTask DisposeAsync()
    {
        if (Browser is not null) await Browser.DisposeAsync();
        _playwright?.Dispose();
        if (_server is { } server)
        {
            server.Kill(entireProcessTree: true);
            await server.WaitForExitAsync();
            server.Dispose();
        }
        if (Directory.Exists(Folder)) Directory.Delete(Folder, recursive: true);
    }

    /// <summary>The page, opened anew; everything that it asks of the network and every complaint of the browser is kept.</summary>
    internal async Task<OpenPage> OpenAsync(int width = 1280, int height = 800, ColorScheme theme = ColorScheme.Dark, bool withTools = false)
    {
        var context = await Browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = width, Height = height }, ColorScheme = theme, BypassCSP = withTools });
        var page = new OpenPage(context, await context.NewPageAsync());
        await page.Page.GotoAsync(Address);
        await page.BeginAnewAsync();
        return page;
    }

    private static Process Start(params string[] arguments)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardOutput = true, UseShellExecute = false };
        start.ArgumentList.Add(Path.Combine(AppContext.BaseDirectory, "mixscore.dll"));
        foreach (var argument in arguments) start.ArgumentList.Add(argument);
        return Process.Start(start)!;
    }
}
