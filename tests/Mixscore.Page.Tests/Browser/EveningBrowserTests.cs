using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Mixscore.Live;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Page.Tests;

/// <summary>An engineer's evening in a real browser: the plan is edited, a practice desk is performed on, things break, and the log is read. In real time.</summary>
[Collection(nameof(InBrowser))]
public sealed class EveningBrowserTests(EveningDemo demo)
{
    private const int Bars = 16;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    // By keys alone: a mark is edited where it is read, the rides follow, undo brings the file back to the byte; and so with the mouse.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_plan_is_edited_where_it_is_read()
    {
        SkipUnlessWanted();
        var before = await File.ReadAllTextAsync(demo.Plan, Ended);
        await using var rehearsal = RunningVerb.Begin("rehearse", demo.Folder, "--no-open");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await rehearsal.SaysAsync("page: "));
        await open.TakeHandAsync();
        await open.UntilEngravedAsync();
        var (page, keyboard) = (open.Page, open.Page.Keyboard);
        await keyboard.PressAsync("e");
        var mark = page.Locator("[data-mark='north.voice@A']");
        await mark.FocusAsync();
        var rides = await RideAsync(open, "north.voice");
        await keyboard.PressAsync("ArrowDown");
        await keyboard.PressAsync("ArrowDown");
        await FileIsAsync(before.Replace("    A: -3\n", "    A: -4\n", StringComparison.Ordinal));
        await open.UntilAsync("() => document.querySelector('.standing').textContent === 'in the plan file'");
        await open.UntilAsync($"async () => JSON.stringify((await (await fetch('/project.json')).json()).sources[0].ride) !== {System.Text.Json.JsonSerializer.Serialize(rides)}");
        await keyboard.PressAsync("Control+z");
        await FileIsAsync(before);
        await keyboard.PressAsync("Control+y");
        await FileIsAsync(before.Replace("    A: -3\n", "    A: -4\n", StringComparison.Ordinal));
        await keyboard.PressAsync("Control+z");
        await FileIsAsync(before);

        // Dragged a beat on with the mouse: it is written where it lies now, and its comment and order stay.
        await page.Locator("[data-mark='north.horn@4']").ScrollIntoViewIfNeededAsync();
        var box = (await page.Locator("[data-mark='north.horn@4']").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + 12, box.Y + 12);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + 12, box.Y - 8, new MouseMoveOptions { Steps = 5 });
        await page.Mouse.UpAsync();
        await FileIsAsync(before.Replace("    4: -8\n", "    4: -3\n", StringComparison.Ordinal));
        await keyboard.PressAsync("Control+z");
        await FileIsAsync(before);
        Assert.Empty(open.Complaints);
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_evening_by_the_own_click()
    {
        SkipUnlessWanted();
        var port = EveningDemo.FreePort().ToString(CultureInfo.InvariantCulture);
        await using var desk = demo.Desk();
        await desk.SaysAsync("practising at");
        await using var night = demo.Perform("--port", port);
        var address = await night.SaysAsync("page: ");
        var name = "--evening-" + Guid.NewGuid().ToString("n");
        var browser = await demo.BrowserAsync(name);
        var open = await EveningDemo.OpenAsync(browser, address);
        await open.TakeHandAsync();
        var (page, keyboard) = (open.Page, open.Page.Keyboard);

        // Armed in two steps, and not by one.
        await keyboard.PressAsync("A");
        await Assertions.Expect(page.GetByRole(AriaRole.Dialog)).ToBeVisibleAsync();
        await keyboard.PressAsync("Escape");
        await Assertions.Expect(page.GetByRole(AriaRole.Dialog)).ToBeHiddenAsync();
        Assert.Equal(0, await page.Locator(".frame").CountAsync());
        await keyboard.PressAsync("A");
        await keyboard.PressAsync("A");
        await Assertions.Expect(page.Locator(".frame")).ToBeVisibleAsync();

        // Started by key where it is told, with the count-in.
        await keyboard.PressAsync("g");
        await keyboard.TypeAsync("18@2");
        await keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator(".call .counts")).ToBeVisibleAsync();
        await open.UntilAsync("() => document.querySelector('.playhead')?.dataset.bar && !document.querySelector('.call .counts')");
        var first = await BarAsync(open);

        // Taken on the desk: the page says so. Let go there, and handed back here by key.
        await desk.TellAsync("grab 9 -20");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "in hand, desk");
        await desk.TellAsync("release 9");
        await open.Fader("south.engine").PressAsync("Backspace");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "planned", new LocatorAssertionsToHaveAttributeOptions { Timeout = 20_000 });

        // A link that drops is seen, and so is its return.
        await night.TellAsync("link north 0");
        await Assertions.Expect(open.Strip("north.horn")).ToHaveAttributeAsync("data-holder", "link gone");
        await Assertions.Expect(page.Locator(".happenings")).ToContainTextAsync("north.horn is gone");
        await night.TellAsync("link north 1");
        await Assertions.Expect(open.Strip("north.horn")).Not.ToHaveAttributeAsync("data-holder", "link gone");

        // Taken by key; then the browser is killed. No fader moves, and another browser shows the truth.
        await open.Fader("south.cello").PressAsync("Shift+ArrowDown");
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "in hand");
        await Task.Delay(50, Ended);
        var gain = await open.Strip("south.cello").Locator(".gain").InnerTextAsync();
        KillBrowser(name);
        await using var second = await demo.BrowserAsync();
        await using var again = await EveningDemo.OpenAsync(second, address);
        await Assertions.Expect(again.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "in hand");
        await Assertions.Expect(again.Strip("south.cello").Locator(".gain")).ToHaveTextAsync(gain);
        await again.TakeHandAsync();

        // The server is killed and resumed: the page comes back by itself within two seconds of it, armed, at the click's place, the hand as it was.
        await night.KillAsync();
        await Assertions.Expect(again.Page.Locator(".lost-bar")).ToBeVisibleAsync();
        await using var resumed = demo.Perform("--port", port, "--resume");
        await resumed.SaysAsync("page: ");
        var since = Stopwatch.GetTimestamp();
        await again.UntilAsync("() => document.querySelector('.page:not(.lost)')");
        var back = Stopwatch.GetElapsedTime(since);
        Assert.True(back < TimeSpan.FromSeconds(2), $"the page was back after {back.TotalSeconds:0.0} s");
        TestContext.Current.TestOutputHelper?.WriteLine($"the page was back {back.TotalMilliseconds:0} ms after the server");
        await Assertions.Expect(again.Page.Locator(".frame")).ToBeVisibleAsync();
        await Assertions.Expect(again.Strip("south.cello").Locator(".gain")).ToHaveTextAsync(gain);

        // Sixteen bars on, it is finished, disarmed, and the log is opened over the score.
        await again.TakeHandAsync();
        await UntilBarAsync(again, first + Bars);
        await again.Page.Locator("body").PressAsync("n");
        await again.Page.Keyboard.TypeAsync("the cello was too loud");
        await again.Page.Keyboard.PressAsync("Enter");
        await Assertions.Expect(again.Page.Locator("dialog[open]")).ToHaveCountAsync(0);
        // On a machine with much to do the page may lose its wire for a moment, which it says; an order that falls into that is given again.
        for (var tries = 0; tries < 5 && !(await again.Page.Locator(".state dd").InnerTextAsync()).Contains("stopped", StringComparison.Ordinal); tries++)
        {
            await again.UntilAsync("() => document.querySelector('.page:not(.lost)')");
            await again.Page.Keyboard.PressAsync("X");
            await Task.Delay(1000, Ended);
        }
        await Assertions.Expect(again.Page.Locator(".state dd")).ToContainTextAsync("stopped");
        await again.Page.Keyboard.PressAsync("A");
        await again.Page.Keyboard.PressAsync("A");
        await Assertions.Expect(again.Page.Locator(".frame")).ToBeHiddenAsync();
        await again.Page.Keyboard.PressAsync("L");
        var log = again.Page.Locator(".night");
        foreach (var told in new[] { "armed", "south.engine taken on the desk", "north.horn is gone, as told", "south.cello taken", "the run was taken up again", "mark: the cello was too loud", "stopped" })
            await Assertions.Expect(log).ToContainTextAsync(told);
        await Assertions.Expect(again.Page.Locator(".night-note")).ToHaveTextAsync("the cello was too loud");
        Assert.DoesNotContain(again.Complaints, one => !one.Contains("WebSocket", StringComparison.Ordinal));
    }

    // Sixteen bars by code from outside, over a session of RTP-MIDI; when it stops the page says so.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_evening_by_MIDI_timecode()
    {
        SkipUnlessWanted();
        using var player = new RtpMidiUdp(new IPEndPoint(IPAddress.Loopback, 0), null, RtpMidiIdentity.Random("player"), TimeProvider.System, _ => { });
        await using var desk = demo.Desk();
        await desk.SaysAsync("practising at");
        await using var night = demo.Perform("--clock", "mtc", "--clock-from", $"rtp-midi://127.0.0.1:{player.Local.Port}");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await night.SaysAsync("page: "));
        await open.TakeHandAsync();
        await open.Page.Keyboard.PressAsync("A");
        await open.Page.Keyboard.PressAsync("A");
        await Assertions.Expect(open.Page.Locator(".frame")).ToBeVisibleAsync();
        await open.Page.Keyboard.PressAsync(" ");
        using var stop = new CancellationTokenSource();
        // 25 frames a second, four quarter-frames a frame, from a place after bar 17's repeat on: 1:10 into the piece.
        var playing = PlayAsync(player, 70 * 100, stop.Token);
        await Assertions.Expect(open.Page.Locator(".state dd")).ToContainTextAsync("timecode, running", new LocatorAssertionsToContainTextOptions { Timeout = 20_000 });
        await open.UntilAsync("() => document.querySelector('.playhead')?.dataset.bar > 10");
        var first = await BarAsync(open);
        await UntilBarAsync(open, first + Bars);
        await stop.CancelAsync();
        await playing;
        await Assertions.Expect(open.Page.Locator(".state dd")).ToContainTextAsync("held", new LocatorAssertionsToContainTextOptions { Timeout = 10_000 });
        Assert.Empty(open.Complaints);
    }

    // Two browsers: the hand passes from one to the other when it is given, and who watches cannot order.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_hand_passes()
    {
        SkipUnlessWanted();
        await using var night = demo.Perform();
        var address = await night.SaysAsync("page: ");
        await using var browser = await demo.BrowserAsync();
        await using var first = await EveningDemo.OpenAsync(browser, address);
        await first.TakeHandAsync();
        await using var second = await EveningDemo.OpenAsync(browser, address);
        await Assertions.Expect(second.Page.Locator(".hand-bar")).ToContainTextAsync("watching");
        // Who watches cannot order.
        await second.Fader("south.cello").PressAsync("Shift+ArrowDown");
        await Assertions.Expect(second.Page.Locator(".refused")).ToContainTextAsync("has the hand");
        await Assertions.Expect(first.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "planned");
        // Asked for and kept; asked for and given.
        await second.Page.Locator("body").PressAsync("c");
        await first.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Keep it" }).ClickAsync();
        await Assertions.Expect(second.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Ask for it" })).ToBeVisibleAsync();
        await second.Page.Locator("body").PressAsync("c");
        await first.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Give it" }).ClickAsync();
        await Assertions.Expect(second.Page.Locator(".hand-bar")).ToBeHiddenAsync();
        await Assertions.Expect(first.Page.Locator(".hand-bar")).ToContainTextAsync("page 2 has the hand");
    }

    // A fader controller at the browser, as the browser would tell of one: taught by moving each once, it takes where it meets and hands back.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task A_controller_at_the_browser_takes_and_hands_back()
    {
        SkipUnlessWanted();
        await using var night = demo.Perform();
        await using var browser = await demo.BrowserAsync();
        var context = await browser.NewContextAsync();
        await context.AddInitScriptAsync("""
            const input = { name: 'eight faders', state: 'connected', onmidimessage: null };
            navigator.requestMIDIAccess = async () => ({ inputs: new Map([['a', input]]), onstatechange: null });
            window.midi = (...bytes) => input.onmidimessage({ data: new Uint8Array(bytes) });
            """);
        await using var open = new OpenPage(context, await context.NewPageAsync());
        await open.Page.GotoAsync(await night.SaysAsync("page: "));
        await open.TakeHandAsync();
        await open.Page.Locator("body").PressAsync("m");
        await open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Ask the browser for it" }).ClickAsync();
        await open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Fader for south.engine" }).ClickAsync();
        await open.Page.EvaluateAsync("() => { midi(0xb0, 7, 10); midi(0xb0, 7, 40); }");
        await open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Hand back south.engine by a button" }).ClickAsync();
        await open.Page.EvaluateAsync("() => midi(0x90, 36, 100)");
        await Assertions.Expect(open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Fader for south.engine" })).ToHaveTextAsync("cc/1/7");
        await open.Page.Keyboard.PressAsync("Escape");
        // Below the fader it takes nothing; passing it, it does.
        await open.Page.EvaluateAsync("() => midi(0xb0, 7, 50)");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "planned");
        await open.Page.EvaluateAsync("() => midi(0xb0, 7, 127)");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "in hand");
        await Assertions.Expect(open.Strip("south.engine").Locator(".gain")).ToHaveTextAsync(new Regex("10.0"));
        await open.Page.EvaluateAsync("() => midi(0x90, 36, 100)");
        await Assertions.Expect(open.Strip("south.engine")).Not.ToHaveAttributeAsync("data-holder", "in hand");
    }

    private static void SkipUnlessWanted() => Assert.SkipUnless(RehearsedDemo.IsWanted, "needs chromium: run tests/run, or set MIXSCORE_OUTSIDE=1");

    private static async Task<string> RideAsync(OpenPage open, string source) =>
        await open.Page.EvaluateAsync<string>("async (name) => JSON.stringify((await (await fetch('/project.json')).json()).sources.find((one) => one.name === name).ride)", source);

    private Task FileIsAsync(string wanted) => UntilFileAsync(text => text == wanted);

    private async Task UntilFileAsync(Func<string, bool> so)
    {
        for (var tries = 0; !so(await File.ReadAllTextAsync(demo.Plan, Ended)); tries++)
        {
            Assert.True(tries < 500, $"the plan is:\n{await File.ReadAllTextAsync(demo.Plan, Ended)}");
            await Task.Delay(20, Ended);
        }
    }

    private static async Task<int> BarAsync(OpenPage open) => int.Parse((await open.Page.Locator(".playhead").GetAttributeAsync("data-bar"))!, CultureInfo.InvariantCulture);

    private static async Task UntilBarAsync(OpenPage open, int bar) =>
        await open.Page.WaitForFunctionAsync($"() => document.querySelector('.playhead').dataset.bar >= {bar}", null, new PageWaitForFunctionOptions { Timeout = 150_000 });

    /// <summary>Plays as a machine of its own would, whatever else this one does: on a thread that is not kept waiting.</summary>
    private static Task PlayAsync(RtpMidiUdp player, long quarter, CancellationToken stopped)
    {
        var done = new TaskCompletionSource(TaskCreationOptions.RunContinuationsAsynchronously);
        new Thread(() =>
        {
            RunTicker.AskForPriority();
            var start = Stopwatch.GetTimestamp();
            for (long sent = 0; !stopped.IsCancellationRequested;)
            {
                var due = (long)(Stopwatch.GetElapsedTime(start).TotalSeconds * 100);
                for (; sent <= due; sent++) player.Send(TimecodeQuarterFrame.At(TimecodeRate.Frames25, quarter + sent));
                Thread.Sleep(2);
            }
            done.SetResult();
        })
        { IsBackground = true, Name = "player" }.Start();
        return done.Task;
    }

    /// <summary>Kills the one browser that was begun with a name of its own, as when a tablet falls into the water.</summary>
    private static void KillBrowser(string name)
    {
        foreach (var folder in Directory.EnumerateDirectories("/proc").Where(folder => int.TryParse(Path.GetFileName(folder), out _)))
        {
            try
            {
                if (!File.ReadAllText(Path.Combine(folder, "cmdline")).Contains(name, StringComparison.Ordinal)) continue;
                using var process = Process.GetProcessById(int.Parse(Path.GetFileName(folder), CultureInfo.InvariantCulture));
                process.Kill();
            }
            catch (Exception gone) when (gone is IOException or UnauthorizedAccessException or ArgumentException or InvalidOperationException)
            {
                // It has ended meanwhile.
            }
        }
    }
}
