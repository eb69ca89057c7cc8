using System.Globalization;
using System.Text.RegularExpressions;
using Microsoft.Playwright;
using Mixscore.Audio;
using Mixscore.Planning;

namespace Mixscore.Page.Tests;

/// <summary>An engineer's afternoon with the demo, in a real browser with real clicks.</summary>
[Collection(nameof(InBrowser))]
public sealed class AfternoonTests(RehearsedDemo demo)
{
    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_afternoon()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        var page = open.Page;
        await open.UntilEngravedAsync(whole: false);
        Assert.Equal("0", await open.Call("bar"));

        // Plays on a click, and the playhead stands where the server is, to an eighth of a bar.
        await open.GoToAsync("D");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Play", Exact = true }).ClickAsync();
        await open.UntilEngravedAsync();
        await open.UntilAsync("() => document.querySelector('.playhead')?.dataset.bar");
        await Task.Delay(1000, TestContext.Current.CancellationToken);
        var shown = double.Parse((await page.Locator(".playhead").GetAttributeAsync("data-quarters"))!, CultureInfo.InvariantCulture);
        Assert.Equal(open.Quarters, shown, tolerance: 5.0 / 8);

        // Alone, and taken with the mouse: what comes over the wire is the stem at the gain that the strip shows.
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Solo south.cello" }).ClickAsync();
        var box = (await open.Fader("south.cello").BoundingBoxAsync())!;
        await page.Mouse.MoveAsync(box.X + box.Width / 2, box.Y + box.Height / 2);
        await page.Mouse.DownAsync();
        await page.Mouse.MoveAsync(box.X + box.Width / 2 - 60, box.Y + box.Height / 2, new MouseMoveOptions { Steps = 6 });
        await page.Mouse.UpAsync();
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "in hand");
        var heard = await HeardAsync(open, "south.cello");
        var before = await ShownAsync(open, "south.cello");
        Assert.Equal(before, heard, tolerance: 0.2);
        for (var i = 0; i < 6; i++) await open.Fader("south.cello").PressAsync("Shift+ArrowDown");
        await Assertions.Expect(open.Strip("south.cello").Locator(".gain")).ToHaveTextAsync(new Regex(Regex.Escape(Text(before - 6))));
        Assert.Equal(before - 6, await HeardAsync(open, "south.cello"), tolerance: 0.2);

        // Handed back by key it returns and is planned again.
        await open.Fader("south.cello").PressAsync("Backspace");
        await Assertions.Expect(open.Strip("south.cello")).ToHaveAttributeAsync("data-holder", "planned", new LocatorAssertionsToHaveAttributeOptions { Timeout = 20_000 });
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Solo south.cello" }).ClickAsync();

        // To a letter, by its button.
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Letter F" }).ClickAsync();
        await Assertions.Expect(page.Locator(".rest .letter dd")).ToHaveTextAsync("F");
        await page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Pause" }).ClickAsync();
        Assert.Empty(open.Complaints);
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task A_page_that_comes_again_shows_the_first_system_as_it_was()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        Assert.Equal("few bars", await open.Page.EvaluateAsync<string>("() => document.documentElement.dataset.drafted"));
        Assert.Equal(1, await open.Page.EvaluateAsync<int>("() => performance.getEntriesByName('first system').length"));
        await open.UntilAsync("() => JSON.parse(localStorage.getItem('mixscore')).systems");
        await open.Page.ReloadAsync();
        await open.UntilAsync("() => document.documentElement.dataset.drafted");
        Assert.Equal("kept", await open.Page.EvaluateAsync<string>("() => document.documentElement.dataset.drafted"));
        var kept = await BarsAsync(open);
        await open.UntilEngravedAsync();
        Assert.NotEmpty(kept);
        Assert.Equal(kept, await BarsAsync(open));

        // In another size it is not what was kept.
        await open.Page.SetViewportSizeAsync(1000, 800);
        await open.Page.ReloadAsync();
        await open.UntilAsync("() => document.documentElement.dataset.drafted");
        Assert.Equal("few bars", await open.Page.EvaluateAsync<string>("() => document.documentElement.dataset.drafted"));
        Assert.Empty(open.Complaints);
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_scroll_bar_that_comes_with_the_score_leaves_its_width_alone()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        Assert.True(await open.Page.EvaluateAsync<bool>("() => { const score = document.querySelector('.score'); return score.scrollHeight > score.clientHeight && score.offsetWidth > score.clientWidth; }"));
        var width = await WidthAsync(open);
        await open.Page.EvaluateAsync("() => { for (const one of document.querySelectorAll('.score > :not(.measure-width)')) one.style.display = 'none'; }");
        Assert.False(await open.Page.EvaluateAsync<bool>("() => { const score = document.querySelector('.score'); return score.scrollHeight > score.clientHeight; }"));
        Assert.Equal(width, await WidthAsync(open));
    }

    private static Task<int> WidthAsync(OpenPage open) => open.Page.EvaluateAsync<int>("() => document.querySelector('.measure-width').clientWidth");

    private static Task<string[]> BarsAsync(OpenPage open) =>
        open.Page.EvaluateAsync<string[]>("() => [...document.querySelectorAll('.system')].slice(0, 1).flatMap((one) => [one.style.width, ...[...one.querySelectorAll('.bar')].map((bar) => `${bar.getAttribute('aria-label')} ${bar.style.left} ${bar.style.width}`)])");

    [Fact(Timeout = InBrowser.Patience)]
    public async Task A_loop_of_four_bars_comes_round()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.GoToAsync("18");
        await open.UntilAsync("() => document.querySelector('output').textContent === '18'");
        await open.Page.Locator("body").PressAsync("l");
        await open.UntilAsync("() => [...document.querySelectorAll('button')].some((b) => b.textContent.includes('Looping 18–21'))");
        await open.GoToAsync("21:3");
        await open.UntilAsync("() => document.querySelector('output').textContent === '21'");
        await open.Page.Locator("body").PressAsync(" ");
        await open.UntilAsync("() => document.querySelector('output').textContent === '18'");
        await open.Page.Locator("body").PressAsync("l");
        await open.Page.Locator("body").PressAsync(" ");
        await open.UntilAsync("() => document.querySelector('.tools .main').textContent === 'Play'");
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task A_bar_that_is_clicked_is_gone_to_and_a_source_that_is_folded_is_gone()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        await open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Go to bar 4", Exact = true }).ClickAsync(new LocatorClickOptions { Position = new Microsoft.Playwright.Position { X = 10, Y = 120 } });
        await open.UntilAsync("() => document.querySelector('output').textContent === '4'");
        var high = await open.Page.EvaluateAsync<double>("() => document.querySelector('.system').offsetHeight");
        await open.Page.GetByRole(AriaRole.Group, new PageGetByRoleOptions { Name = "Site middle" }).GetByRole(AriaRole.Button, new LocatorGetByRoleOptions { Name = "fold", Exact = true }).ClickAsync();
        await open.UntilAsync($"() => document.querySelector('.system') && document.querySelector('.system').offsetHeight < {high.ToString(CultureInfo.InvariantCulture)} - 40");
        Assert.Equal(0, await open.Page.Locator(".lane-name", new PageLocatorOptions { HasText = "middle." }).CountAsync());
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_names_of_an_endless_strip_stand_at_its_left_edge()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        await StripAsync();
        await open.UntilAsync(NamesAtEdge);
        await open.Page.EvaluateAsync("() => { document.querySelector('.score').scrollLeft = 4000; }");
        await open.UntilAsync($"() => document.querySelector('.leftmost').dataset.system > 0 && ({NamesAtEdge})()");
        // Left and come back to, it may stand elsewhere without ever being scrolled.
        await StripAsync();
        await open.UntilAsync("() => !document.querySelector('.score.endless')");
        await StripAsync();
        await open.UntilAsync(NamesAtEdge);
        Assert.Empty(open.Complaints);

        async Task StripAsync() => await open.Page.GetByRole(AriaRole.Button, new PageGetByRoleOptions { Name = "Strip", Exact = true }).ClickAsync();
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task The_engraver_paints_the_notes_itself_in_the_ink_of_the_page()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        await open.UntilAsync("() => document.querySelector('canvas.notes')");
        Assert.Equal(0, await open.Page.Locator(".engraving img").CountAsync());
        var (dark, light) = (await InkAsync(), 0.0);
        await open.Page.Locator("body").PressAsync("t");
        for (var tries = 0; tries < 100 && Math.Abs((light = await InkAsync()) - dark) < 50; tries++) await Task.Delay(50, TestContext.Current.CancellationToken);
        Assert.True(Math.Min(dark, light) < 80 && Math.Max(dark, light) > 180, $"the mean of what is painted: {dark}, then {light}");

        // The mean brightness of what is painted well; nothing painted is no number.
        async Task<double> InkAsync() => await open.Page.EvaluateAsync<double>("""
            () => {
                const notes = document.querySelector('canvas.notes');
                const context = Object.assign(document.createElement('canvas'), { width: notes.width, height: notes.height }).getContext('2d');
                context.drawImage(notes, 0, 0);
                const { data } = context.getImageData(0, 0, notes.width, notes.height);
                let [sum, count] = [0, 0];
                for (let i = 0; i < data.length; i += 4) if (data[i + 3] > 200) [sum, count] = [sum + data[i], count + 1];
                return count > 500 ? sum / count : -1000;
            }
            """);
    }

    private const string NamesAtEdge = """
        () => {
            const shown = [...document.querySelectorAll('.endless .lane-names')].filter((one) => getComputedStyle(one).visibility === 'visible');
            const [edge, box] = [document.querySelector('.score').getBoundingClientRect().left + 40, shown[0]?.closest('.system').getBoundingClientRect()];
            return new Set(shown.map((one) => one.closest('.system'))).size === 1 && box.left <= edge && edge < box.right;
        }
        """;

    [Fact(Timeout = InBrowser.Patience)]
    public async Task Nothing_is_asked_of_any_other_machine()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        Assert.All(open.Asked, url => Assert.StartsWith(url.StartsWith("blob:", StringComparison.Ordinal) ? "blob:" + demo.Address : demo.Address, url, StringComparison.Ordinal));
        Assert.Empty(open.Complaints);
    }

    // axe-core: all of its rules, on every view; each size and each theme once.
    [Theory(Timeout = InBrowser.Patience)]
    [InlineData(1280, 800, ColorScheme.Light), InlineData(820, 1180, ColorScheme.Dark)]
    public async Task Everyone_can_use_it(int width, int height, ColorScheme theme)
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync(width, height, theme, withTools: true);
        await open.UntilEngravedAsync();
        await open.Fader("north.voice").PressAsync("ArrowUp");
        Assert.Empty(await open.AxeAsync());
        await open.Page.Locator("body").PressAsync("?");
        Assert.Empty(await open.AxeAsync());
        await open.Page.Keyboard.PressAsync("Escape");
        await open.Fader("north.voice").PressAsync("Backspace");
        await open.Page.GotoAsync(demo.Address + "call");
        await open.UntilAsync("() => document.querySelector('.call')");
        Assert.Empty(await open.AxeAsync());
    }

    [Fact(Timeout = InBrowser.Patience)]
    public async Task All_of_it_can_be_done_with_the_keys()
    {
        SkipUnlessWanted();
        await using var open = await demo.OpenAsync();
        await open.UntilEngravedAsync();
        var keyboard = open.Page.Keyboard;
        await keyboard.PressAsync("?");
        await Assertions.Expect(open.Page.GetByRole(AriaRole.Dialog)).ToBeVisibleAsync();
        await keyboard.PressAsync("Escape");
        await Assertions.Expect(open.Page.GetByRole(AriaRole.Dialog)).ToBeHiddenAsync();
        await keyboard.PressAsync("g");
        await keyboard.TypeAsync("C+1");
        await keyboard.PressAsync("Enter");
        await open.UntilAsync("() => document.querySelector('.rest .letter dd').textContent === 'C'");
        await keyboard.PressAsync("]");
        await open.UntilAsync("() => document.querySelector('.rest .letter dd').textContent === 'D'");
        await keyboard.PressAsync("s");
        await keyboard.PressAsync("PageUp");
        await Assertions.Expect(open.Strip("north.voice")).ToHaveAttributeAsync("data-holder", "in hand");
        await keyboard.PressAsync("Alt+ArrowUp");
        await Assertions.Expect(open.Strip("north.voice").Locator(".offset")).ToHaveTextAsync("+0.1");
        await keyboard.PressAsync("Alt+ArrowDown");
        await keyboard.PressAsync("Backspace");
        await Assertions.Expect(open.Strip("north.voice")).Not.ToHaveAttributeAsync("data-holder", "in hand");
        await keyboard.PressAsync("Tab");
        Assert.Equal("horn", await open.Page.EvaluateAsync<string>("() => document.activeElement.textContent"));
    }

    private static void SkipUnlessWanted() => Assert.SkipUnless(RehearsedDemo.IsWanted, "needs chromium: run tests/run, or set MIXSCORE_OUTSIDE=1");

    private static async Task<double> ShownAsync(OpenPage open, string source) =>
        double.Parse((await open.Strip(source).Locator(".gain").InnerTextAsync()).Replace('−', '-'), CultureInfo.InvariantCulture);

    private static string Text(double gain) => Math.Abs(gain).ToString("0.0", CultureInfo.InvariantCulture);

    /// <summary>The gain at which a source is heard alone: what came over the wire against its stem, by least squares, without what its place in the hall takes.</summary>
    private async Task<double> HeardAsync(OpenPage open, string source)
    {
        var plan = PlanReader.Read(Path.Combine(demo.Folder, "night-ferry.mix.yaml"));
        var found = plan.Sources.Single(one => one.Name == source);
        await Task.Delay(500, TestContext.Current.CancellationToken);
        open.Forget();
        var sound = open.Sound();
        // A machine with much to do sends in bursts.
        for (var tries = 0; tries < 200 && sound.Sum(one => one.Left.Length) < 10_000; tries++)
        {
            await Task.Delay(50, TestContext.Current.CancellationToken);
            sound = open.Sound();
        }
        Assert.NotEmpty(sound);
        using var stem = StemFile.Read(Path.Combine(plan.Folder, found.Stem)).Open();
        var (both, own) = (0.0, 0.0);
        foreach (var (at, left) in sound)
        {
            var samples = new float[left.Length];
            stem.Seek((long)Math.Round(at * stem.File.Format.SampleRate));
            stem.Read(samples);
            for (var i = 0; i < left.Length; i++) (both, own) = (both + (double)samples[i] * left[i], own + (double)samples[i] * samples[i]);
        }
        var pan = Pan.OfSite(plan.Sites.ToList().IndexOf(found.Site), plan.Sites.Count);
        return 20 * Math.Log10(both / own / pan.Left);
    }
}
