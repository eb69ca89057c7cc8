using System.Buffers.Binary;
using System.Runtime.InteropServices;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>A page in the browser, with what came over its wire.</summary>
internal sealed class OpenPage : IAsyncDisposable
{
    private readonly IBrowserContext _context;
    private readonly List<byte[]> _frames = [];
    private readonly Lock _gate = new();

    internal OpenPage(IBrowserContext context, IPage page)
    {
        (_context, Page) = (context, page);
        page.Request += (_, request) => Asked.Add(request.Url);
        page.Console += (_, message) =>
        {
            if (message.Type == "error") Complaints.Add(message.Text);
        };
        page.PageError += (_, error) => Complaints.Add(error);
        page.WebSocket += (_, socket) => socket.FrameReceived += (_, frame) =>
        {
            if (frame.Binary is not { } bytes) return;
            lock (_gate) _frames.Add(bytes);
        };
    }

    internal IPage Page { get; }

    internal List<string> Asked { get; } = [];

    internal List<string> Complaints { get; } = [];

    /// <summary>Quarters as the server said last.</summary>
    internal double Quarters
    {
        get
        {
            lock (_gate) return BinaryPrimitives.ReadDoubleLittleEndian(_frames.FindLast(frame => frame[0] == 2)!.AsSpan(16));
        }
    }

    /// <summary>Forgets the sound that came so far.</summary>
    internal void Forget()
    {
        lock (_gate) _frames.RemoveAll(frame => frame[0] == 1);
    }

    /// <summary>The blocks of sound that came: where in the piece each begins, and its left side.</summary>
    internal IReadOnlyList<(double At, float[] Left)> Sound()
    {
        lock (_gate)
            return
            [
                .. _frames.Where(frame => frame[0] == 1).Select(frame =>
                {
                    var samples = MemoryMarshal.Cast<byte, float>(frame.AsSpan(Frames.SoundHeader));
                    var left = new float[samples.Length / 2];
                    for (var i = 0; i < left.Length; i++) left[i] = samples[2 * i];
                    return (BinaryPrimitives.ReadDoubleLittleEndian(frame.AsSpan(8)), left);
                }),
            ];
    }

    /// <summary>The rehearsal as it was at the beginning, whatever was done to it before: standing at the first bar, all with the plan.</summary>
    internal async Task BeginAnewAsync()
    {
        await UntilAsync("() => document.querySelector('.state dd')?.textContent.startsWith('own click')");
        await TakeHandAsync();
        await Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "All back" }).ClickAsync();
        if (await Page.Locator(".tools .main").InnerTextAsync() == "Pause") await Page.Locator(".tools .main").ClickAsync();
        await GoToAsync("0");
        await UntilAsync("() => document.querySelector('output').textContent === '0' && document.querySelector('.tools .main').textContent === 'Play'");
    }

    /// <summary>Has the hand, whoever had it before and is gone.</summary>
    internal async Task TakeHandAsync()
    {
        await UntilAsync("() => { const page = document.querySelector('.page'); if (page?.classList.contains('watching')) [...document.querySelectorAll('.hand-bar button')].find((one) => one.textContent === 'Take it')?.click(); return page && !page.classList.contains('watching') && !page.classList.contains('lost'); }");
    }

    internal async Task GoToAsync(string position)
    {
        await Page.GetByLabel("Go to a position").FillAsync(position);
        await Page.GetByLabel("Go to a position").PressAsync("Enter");
    }

    internal ILocator Strip(string source) => Page.Locator($".strip[data-source='{source}']");

    internal ILocator Fader(string source) => Strip(source).GetByRole(AriaRole.Slider);

    internal Task<string> Call(string what) => Page.GetByLabel(what, new PageGetByLabelOptions { Exact = true }).First.InnerTextAsync();

    internal Task UntilAsync(string script) => Page.WaitForFunctionAsync(script, null, new PageWaitForFunctionOptions { Timeout = 60_000 });

    /// <summary>Until the score is engraved; or its first system alone.</summary>
    internal Task UntilEngravedAsync(bool whole = true) =>
        UntilAsync(whole ? "() => document.documentElement.dataset.laid" : "() => document.querySelector('.engraving img, .engraving canvas')");

    /// <summary>What axe-core finds, by all of its rules.</summary>
    internal async Task<string[]> AxeAsync()
    {
        var axe = await File.ReadAllTextAsync(Path.Combine(Root, "src", "Mixscore.Page", "client", "node_modules", "axe-core", "axe.min.js"), TestContext.Current.CancellationToken);
        await Page.EvaluateAsync(axe);
        return await Page.EvaluateAsync<string[]>("() => axe.run(document).then((found) => found.violations.map((one) => `${one.id}: ${one.nodes[0].html}`))");
    }

    private static string Root
    {
        get
        {
            var folder = AppContext.BaseDirectory;
            while (!File.Exists(Path.Combine(folder, "Mixscore.sln"))) folder = Path.GetDirectoryName(folder)!;
            return folder;
        }
    }

    public async ValueTask DisposeAsync() => await _context.DisposeAsync();
}
