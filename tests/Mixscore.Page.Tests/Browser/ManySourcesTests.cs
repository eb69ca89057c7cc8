using System.Globalization;
using Microsoft.Playwright;

namespace Mixscore.Page.Tests;

/// <summary>A piece with many more sources than a screen shows, in a real browser.</summary>
[Collection(nameof(InBrowser))]
public sealed class ManySourcesTests(EveningDemo demo)
{
    private const int Sources = 40;

    // Lines and strips out of sight are not drawn, and are there as soon as they are looked at.
    [Fact(Timeout = InBrowser.Patience)]
    public async Task Every_source_has_its_line_and_its_strip_when_it_is_looked_at()
    {
        Assert.SkipUnless(RehearsedDemo.IsWanted, "needs chromium: run tests/run, or set MIXSCORE_OUTSIDE=1");
        using var piece = new SmallPiece();
        await File.WriteAllTextAsync(piece.PathOf("small.mix.yaml"), Plan(), TestContext.Current.CancellationToken);
        await using var rehearsal = RunningVerb.Begin("rehearse", piece.Folder, "--no-open");
        await using var browser = await demo.BrowserAsync();
        await using var open = await EveningDemo.OpenAsync(browser, await rehearsal.SaysAsync("page: "));
        await open.UntilEngravedAsync();

        await Assertions.Expect(open.Page.Locator(".strip")).ToHaveCountAsync(Sources);
        Assert.InRange(await open.Page.Locator(".lane-name").CountAsync(), 1, 24);
        await open.Page.WaitForFunctionAsync(IsDrawn, "near.s1");

        var last = string.Create(CultureInfo.InvariantCulture, $"near.s{Sources}");
        await open.Page.EvaluateAsync("() => { const score = document.querySelector('.score'); score.scrollTop = document.querySelector('.system').offsetHeight - score.clientHeight; }");
        await Assertions.Expect(open.Page.Locator(".lane-name", new PageLocatorOptions { HasText = last }).First).ToBeVisibleAsync();
        await open.Page.WaitForFunctionAsync(IsDrawn, last);

        await open.Fader(last).PressAsync("ArrowDown");
        await Assertions.Expect(open.Strip(last)).ToHaveAttributeAsync("data-holder", "in hand");
        await Assertions.Expect(open.Strip(last)).ToBeInViewportAsync();
        Assert.Empty(open.Complaints);
    }

    /// <summary>Whether there is a line beside a name, and its own: something is drawn in its lane, above a bar of the piece.</summary>
    private const string IsDrawn = """
        (source) => {
            const name = [...document.querySelectorAll('.system:first-child .lane-name')].find((one) => one.textContent.trim() === source);
            if (!name) return false;
            const [canvas, lane] = [name.closest('.lanes').querySelector('canvas'), name.parentElement.getBoundingClientRect()];
            const [box, scale] = [canvas.getBoundingClientRect(), canvas.height / canvas.getBoundingClientRect().height];
            const { data } = canvas.getContext('2d').getImageData(Math.round(canvas.width / 5), Math.round((lane.top - box.top) * scale), 1, Math.round(lane.height * scale));
            return data.some((value) => value > 0);
        }
        """;

    private static string Plan()
    {
        var numbers = Enumerable.Range(1, Sources).Select(number => number.ToString(CultureInfo.InvariantCulture)).ToArray();
        return $$"""
            title: Many
            score: small.musicxml
            reference: -23 LUFS
            sites:
              near: { link: { delay: 0 ms, on-drop: fade 300 ms } }
            sources:
            {{string.Join('\n', numbers.Select(number => $"  near.s{number}: {{ role: voice, stem: stems/voice.wav, strip: {number}, within: 2 LU, part: P1 }}"))}}
            limits: { fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP }
            levels:
            {{string.Join('\n', numbers.Select(number => $"  near.s{number}: {{ 1: -30 }}"))}}
            """;
    }
}
