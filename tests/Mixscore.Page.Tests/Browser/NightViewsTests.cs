using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>The views of a performance and of editing, for everyone: axe-core finds nothing, and the keys alone do for a whole evening.</summary>
[Collection(nameof(InBrowser))]
public sealed class NightViewsTests(EveningDemo demo)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    // axe-core: all of its rules, on every view of a performance; each size and each theme once.
    [Theory(Timeout = InBrowser.Patience)]
    [InlineData(1280, 800, ColorScheme.Dark), InlineData(820, 1180, ColorScheme.Light)]
    public async Task Everyone_can_perform(int width, int height, ColorScheme theme)
    {
        SkipUnlessWanted();
        await using var desk = demo.Desk();
        await desk.SaysAsync("practising at");
        await using var night = demo.Perform();
        var address = await night.SaysAsync("page: ");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, address, width, height, theme, withTools: true);
        await open.TakeHandAsync();
        await open.UntilEngravedAsync(whole: false);
        var keyboard = open.Page.Keyboard;
        Assert.Empty(await open.AxeAsync());
        foreach (var view in new[] { "A", "?", "m", "n" })
        {
            await keyboard.PressAsync(view);
            await Assertions.Expect(open.Page.GetByRole(AriaRole.Dialog)).ToBeVisibleAsync();
            Assert.Empty(await open.AxeAsync());
            await keyboard.PressAsync("Escape");
            await Assertions.Expect(open.Page.GetByRole(AriaRole.Dialog)).ToBeHiddenAsync();
        }
        await keyboard.PressAsync("A");
        await keyboard.PressAsync("A");
        await Assertions.Expect(open.Page.Locator(".frame")).ToBeVisibleAsync();
        await keyboard.PressAsync(" ");
        await night.TellAsync("link south 0");
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "link gone");
        await open.Fader("north.horn").PressAsync("ArrowDown");
        await Assertions.Expect(open.Strip("north.horn")).ToHaveAttributeAsync("data-holder", "in hand");
        Assert.Empty(await open.AxeAsync());
        await keyboard.PressAsync("L");
        await Assertions.Expect(open.Page.Locator(".night ol")).ToBeVisibleAsync();
        Assert.Empty(await open.AxeAsync());
        // A second browser only watches; and when the server is gone both say so.
        await using var second = await EveningDemo.OpenAsync(browser, address, width, height, theme, withTools: true);
        await Assertions.Expect(second.Page.Locator(".hand-bar")).ToContainTextAsync("watching");
        Assert.Empty(await second.AxeAsync());
        await second.Page.GotoAsync(address + "call");
        await second.UntilAsync("() => document.querySelector('.call-alone:not(.lost)')");
        Assert.Empty(await second.AxeAsync());
        await night.KillAsync();
        await Assertions.Expect(open.Page.Locator(".lost-bar")).ToBeVisibleAsync();
        Assert.Empty(await open.AxeAsync());
    }

    // The same for editing.
    [Theory(Timeout = InBrowser.Patience)]
    [InlineData(1280, 800, ColorScheme.Dark), InlineData(820, 1180, ColorScheme.Light)]
    public async Task Everyone_can_edit(int width, int height, ColorScheme theme)
    {
        SkipUnlessWanted();
        await using var rehearsal = RunningVerb.Begin("rehearse", demo.Folder, "--no-open");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await rehearsal.SaysAsync("page: "), width, height, theme, withTools: true);
        await open.TakeHandAsync();
        await open.UntilEngravedAsync();
        await open.Page.Keyboard.PressAsync("d");
        await Assertions.Expect(open.Page.Locator(".handle:focus")).ToHaveCountAsync(1);
        Assert.Empty(await open.AxeAsync());
    }

    // Nothing but the keyboard, and no element is given the focus but by a key.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_evening_by_the_keys_alone()
    {
        SkipUnlessWanted();
        await using var desk = demo.Desk();
        await desk.SaysAsync("practising at");
        await using var night = demo.Perform();
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await night.SaysAsync("page: "));
        await open.TakeHandAsync();
        var (page, keyboard) = (open.Page, open.Page.Keyboard);
        await keyboard.PressAsync("A");
        await keyboard.PressAsync("A");
        await Assertions.Expect(page.Locator(".frame")).ToBeVisibleAsync();
        await keyboard.PressAsync("g");
        await keyboard.TypeAsync("D");
        await keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator(".call .counts")).ToBeVisibleAsync();
        await open.UntilAsync("() => document.querySelector('.playhead')?.dataset.bar && !document.querySelector('.call .counts')");

        // The third strip, by its place: taken, a decibel down, off, handed back; an offset on another.
        var third = await page.Locator(".strip").Nth(2).GetAttributeAsync("data-source");
        await keyboard.PressAsync("3");
        await keyboard.PressAsync("Shift+ArrowDown");
        await Assertions.Expect(open.Strip(third!)).ToHaveAttributeAsync("data-holder", "in hand");
        await keyboard.PressAsync("End");
        await Assertions.Expect(open.Strip(third!).Locator(".gain")).ToHaveTextAsync("off");
        await keyboard.PressAsync("Backspace");
        await Assertions.Expect(open.Strip(third!)).Not.ToHaveAttributeAsync("data-holder", "in hand");
        await keyboard.PressAsync("1");
        for (var i = 0; i < 3; i++) await keyboard.PressAsync("Alt+ArrowUp");
        await Assertions.Expect(page.Locator(".strip").First.Locator(".offset")).ToHaveTextAsync("+0.3");

        // Stay on the bar, release, hold all, all back.
        await keyboard.PressAsync("s");
        var stay = page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Stay", Exact = true });
        await Assertions.Expect(stay).ToHaveAttributeAsync("aria-pressed", "true");
        await keyboard.PressAsync("r");
        await Assertions.Expect(stay).ToHaveAttributeAsync("aria-pressed", "false");
        await keyboard.PressAsync("h");
        await Assertions.Expect(page.Locator(".strip[data-holder^='in hand']")).ToHaveCountAsync(9);
        await keyboard.PressAsync("a");
        await Assertions.Expect(page.Locator(".strip[data-holder^='in hand']")).ToHaveCountAsync(0);

        // A jump at the next barline, a note, stop, disarm, the log.
        await keyboard.PressAsync("g");
        await keyboard.TypeAsync("F");
        await keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator(".rest .letter dd")).ToHaveTextAsync("F", new LocatorAssertionsToHaveTextOptions { Timeout = 20_000 });
        await keyboard.PressAsync("n");
        await keyboard.TypeAsync("well played");
        await keyboard.PressAsync("Enter");
        await Assertions.Expect(page.Locator("dialog[open]")).ToHaveCountAsync(0);
        await keyboard.PressAsync("X");
        await Assertions.Expect(page.Locator(".state dd")).ToContainTextAsync("stopped");
        await keyboard.PressAsync("A");
        await keyboard.PressAsync("A");
        await Assertions.Expect(page.Locator(".frame")).ToBeHiddenAsync();
        await keyboard.PressAsync("L");
        await Assertions.Expect(page.Locator(".night")).ToContainTextAsync("mark: well played");
        Assert.Empty(open.Complaints);
    }

    // How closely a source is kept, and a vertex that stays, by keys; then a plan that cannot be written, and what becomes of the edit.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task What_is_set_lands_in_the_file_or_is_kept()
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

        await page.Locator("[data-mark='north.voice@A']").FocusAsync();
        await page.GetByRole(AriaRole.Form, new PageGetByRoleOptions { Name = "Within" }).GetByRole(AriaRole.Textbox).FillAsync("4,5");
        await keyboard.PressAsync("Enter");
        await UntilFileAsync(text => Regex.IsMatch(text, @"north\.voice:.*within: 4\.5 LU"));
        await keyboard.PressAsync("Control+z");
        await UntilFileAsync(text => text == before);

        // Pinned where the ride has it: the file names the place, and the vertex is marked.
        var vertex = page.Locator(".vertex:not(.off)[data-vertex^='north.voice@']").First;
        await vertex.FocusAsync();
        await keyboard.PressAsync("Enter");
        await UntilFileAsync(text => text.Contains("pins:", StringComparison.Ordinal));
        await Assertions.Expect(page.Locator(".handle.vertex.pinned")).ToHaveCountAsync(1);
        await keyboard.PressAsync("Control+z");
        await UntilFileAsync(text => text == before);

        // A file that may only be read: the edit is kept, and said so; a copy can be saved beside it, and it lands when it may.
        var edited = before.Replace("    A: -3\n", "    A: -3.5\n", StringComparison.Ordinal);
        File.SetAttributes(demo.Plan, FileAttributes.ReadOnly);
        await page.Locator("[data-mark='north.voice@A']").FocusAsync();
        await keyboard.PressAsync("ArrowDown");
        await Assertions.Expect(page.Locator(".settle")).ToContainTextAsync("kept on this page only", new LocatorAssertionsToContainTextOptions { Timeout = 20_000 });
        await Assertions.Expect(page.GetByRole(AriaRole.Link, new PageGetByRoleOptions { Name = "Save with the browser" })).ToBeVisibleAsync();
        Assert.Equal(before, await File.ReadAllTextAsync(demo.Plan, Ended));
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Save beside it" }).ClickAsync();
        await Assertions.Expect(page.Locator(".notice")).ToBeVisibleAsync();
        var beside = Assert.Single(Directory.GetFiles(demo.Folder, "*.kept-*"));
        Assert.Equal(edited, await File.ReadAllTextAsync(beside, Ended));
        File.Delete(beside);
        File.SetAttributes(demo.Plan, FileAttributes.Normal);
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Try again" }).ClickAsync();
        await UntilFileAsync(text => text == edited);
        await Assertions.Expect(page.Locator(".settle")).ToHaveCountAsync(0);
        await keyboard.PressAsync("Control+z");
        await UntilFileAsync(text => text == before);
    }

    // A hand in a rehearsal, and what the plan could learn from it: shown on the lines, taken, undone.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task What_a_night_suggests_is_taken_where_it_is_read()
    {
        SkipUnlessWanted();
        var before = await File.ReadAllTextAsync(demo.Plan, Ended);
        await using var rehearsal = RunningVerb.Begin("rehearse", demo.Folder, "--no-open");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await rehearsal.SaysAsync("page: "), withTools: true);
        await open.TakeHandAsync();
        await open.UntilEngravedAsync();
        var (page, keyboard) = (open.Page, open.Page.Keyboard);
        await open.GoToAsync("33");
        await page.Locator("body").PressAsync(" ");
        // A hand that takes it before the ride has risen takes it where it is off, and what the night suggests is another thing.
        await Assertions.Expect(open.Strip("south.cello").Locator(".gain")).Not.ToHaveTextAsync("off", new LocatorAssertionsToHaveTextOptions { Timeout = 20_000 });
        for (var i = 0; i < 6; i++) await open.Fader("south.cello").PressAsync("Shift+ArrowDown");
        await Assertions.Expect(page.Locator("output").First).ToHaveTextAsync("38", new LocatorAssertionsToHaveTextOptions { Timeout = 60_000 });
        await open.Fader("south.cello").PressAsync("Backspace");
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "planned", new LocatorAssertionsToHaveAttributeOptions { Timeout = 20_000 });
        await page.Locator("body").PressAsync(" ");
        await keyboard.PressAsync("L");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "What the plan could learn" }).ClickAsync();
        var accept = page.Locator(".suggests li", new PageLocatorOptions { HasText = "south.cello" }).GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { NameRegex = new Regex("^Accept") });
        await Assertions.Expect(accept.First).ToBeVisibleAsync(new LocatorAssertionsToBeVisibleOptions { Timeout = 60_000 });
        Assert.Empty(await open.AxeAsync());
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Accept all" }).ClickAsync();
        await UntilFileAsync(text => text.Contains("# by hand ", StringComparison.Ordinal));
        await Assertions.Expect(accept).ToHaveCountAsync(0, new LocatorAssertionsToHaveCountOptions { Timeout = 60_000 });
        await page.Locator("body").PressAsync("z");
        await UntilFileAsync(text => text == before);
        Assert.Empty(open.Complaints);
    }

    private static void SkipUnlessWanted() => Assert.SkipUnless(RehearsedDemo.IsWanted, "needs chromium: run tests/run, or set MIXSCORE_OUTSIDE=1");

    private async Task UntilFileAsync(Func<string, bool> so)
    {
        for (var tries = 0; ; tries++)
        {
            var text = await File.ReadAllTextAsync(demo.Plan, Ended);
            if (so(text)) return;
            Assert.True(tries < 500, "the plan is:\n" + text);
            await Task.Delay(20, Ended);
        }
    }
}
