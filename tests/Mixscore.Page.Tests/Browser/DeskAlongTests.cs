using System.Text.RegularExpressions;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>A rehearsal with a desk moved along, and with the call on several screens, in a real browser.</summary>
[Collection(nameof(InBrowser))]
public sealed class DeskAlongTests(EveningDemo demo)
{
    private const int Tablets = 4;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    // What the page's hand does the desk does; a hand on the desk takes, and lets go, and the page says so.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task A_desk_is_moved_along_and_takes()
    {
        SkipUnlessWanted();
        await using var desk = demo.Desk();
        await desk.SaysAsync("practising at");
        await using var rehearsal = RunningVerb.Begin("rehearse", demo.Folder, "--no-open", "--desk", demo.Map);
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await rehearsal.SaysAsync("page: "));
        await open.TakeHandAsync();
        await open.UntilEngravedAsync(whole: false);
        await open.GoToAsync("D");
        await open.Page.Keyboard.PressAsync(" ");

        await open.Fader("south.cello").PressAsync("Home");
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "in hand");
        for (var tries = 0; tries < 200 && !desk.HasSaid(@"^strip 8 -?0\.\d\d dB$"); tries++)
        {
            await desk.TellAsync("show");
            await Task.Delay(50, Ended);
        }
        Assert.True(desk.HasSaid(@"^strip 8 -?0\.\d\d dB$"), "the desk's fader did not come to 0 dB");

        await desk.TellAsync("grab 9 -20");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "in hand, desk");
        await Assertions.Expect(open.Strip("south.engine").Locator(".gain")).ToHaveTextAsync(new Regex("^.(19|20)\\.[0-9]$"));
        await desk.TellAsync("release 9");
        await open.Fader("south.engine").PressAsync("Backspace");
        await Assertions.Expect(open.Strip("south.engine")).ToHaveAttributeAsync("data-holder", "planned", new LocatorAssertionsToHaveAttributeOptions { Timeout = 20_000 });
        Assert.Empty(open.Complaints);
    }

    // The call alone, on as many screens as one likes: all show the same bar as the page that has the hand, and none can order.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_call_is_on_every_tablet()
    {
        SkipUnlessWanted();
        await using var rehearsal = RunningVerb.Begin("rehearse", demo.Folder, "--no-open");
        await using var browser = await demo.BrowserAsync();
        var address = await rehearsal.SaysAsync("page: ");
        await using var open = await EveningDemo.OpenAsync(browser, address);
        await open.TakeHandAsync();
        var tablets = new List<OpenPage>();
        try
        {
            for (var i = 0; i < Tablets; i++)
            {
                var context = await browser.NewContextAsync(new BrowserNewContextOptions { ViewportSize = new ViewportSize { Width = 820, Height = 1180 } });
                tablets.Add(new OpenPage(context, await context.NewPageAsync()));
                await tablets[i].Page.GotoAsync(address + "call");
            }
            foreach (var bar in new[] { "33", "58" })
            {
                await open.GoToAsync(bar);
                foreach (var tablet in tablets) await tablet.UntilAsync($"() => document.querySelector('.call-alone:not(.lost) output')?.textContent === '{bar}'");
            }
            await open.Page.Keyboard.PressAsync(" ");
            foreach (var tablet in tablets)
            {
                await tablet.UntilAsync("() => document.querySelector('output').textContent === '59'");
                Assert.Equal(0, await tablet.Page.Locator(".strip, [role=slider], button").CountAsync());
                // Legible at 5 m: a digit a two-hundredth of the distance high (common practice, no source), 25 mm of the 280 mm of this screen.
                Assert.True((await tablet.Page.Locator("output").First.BoundingBoxAsync())!.Height > 1180 * 25 / 280.0);
                Assert.Empty(tablet.Complaints);
            }
            await Assertions.Expect(open.Page.Locator(".hand-bar")).ToBeHiddenAsync();
        }
        finally
        {
            foreach (var tablet in tablets) await tablet.DisposeAsync();
        }
    }

    private static void SkipUnlessWanted() => Assert.SkipUnless(RehearsedDemo.IsWanted, "needs chromium: run tests/run, or set MIXSCORE_OUTSIDE=1");
}
