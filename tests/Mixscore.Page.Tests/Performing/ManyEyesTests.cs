using System.Net.WebSockets;
using Mixscore.Live;

namespace Mixscore.Page.Tests;

/// <summary>Twenty displays of the call, each on a wire of its own, while a performance runs. In real time.</summary>
public sealed class ManyEyesTests : IDisposable
{
    private const int Displays = 20;
    private static readonly TimeSpan Stretch = TimeSpan.FromSeconds(2);
    private readonly SmallPiece _piece = new();

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    public void Dispose() => _piece.Dispose();

    // Stretches with and without displays in turn, in one run, so that whatever else the machine does falls on both.
    [Fact(Timeout = 60_000)]
    public async Task They_cost_the_run_no_late_tick()
    {
        using var session = _piece.NewSession(isPerformance: true);
        using var evening = new Evening(session, ClockKind.Click, TimeProvider.System);
        await using var server = await PageServer.StartAsync(_piece.Project, evening, new PageOptions(), Ended);
        evening.Start();
        session.Run.Post(RunEvent.Start());
        long without = 0, with = 0, frames = 0;
        for (var turn = 0; turn < 4; turn++)
        {
            without += await LateAsync(session);
            using var over = CancellationTokenSource.CreateLinkedTokenSource(Ended);
            var displays = Enumerable.Range(0, Displays).Select(_ => WatchAsync(server.Address, over.Token)).ToArray();
            with += await LateAsync(session);
            await over.CancelAsync();
            frames += (await Task.WhenAll(displays)).Sum();
        }
        TestContext.Current.TestOutputHelper?.WriteLine($"late ticks in {4 * Stretch.TotalSeconds:0} s: {without} without displays, {with} with {Displays}; {frames} frames shown");
        Assert.True(frames > 4 * Stretch.TotalSeconds * 25 * Displays, $"only {frames} frames came");
        // A tick in a hundred is the noise of a machine that does other things as well.
        Assert.True(with <= without + (4 * Stretch / RunSettings.Tick / 100), $"{with} late ticks with displays, {without} without");
    }

    private static async Task<long> LateAsync(LiveSession session)
    {
        var before = session.Ticks.Late;
        await Task.Delay(Stretch, Ended);
        return session.Ticks.Late - before;
    }

    private static async Task<int> WatchAsync(Uri page, CancellationToken over)
    {
        using var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", page.GetLeftPart(UriPartial.Authority));
        var (buffer, frames) = (new byte[16384], 0);
        try
        {
            await socket.ConnectAsync(new Uri($"ws://127.0.0.1:{page.Port}/live"), over);
            while (true)
                if ((await socket.ReceiveAsync(buffer, over)).MessageType == WebSocketMessageType.Binary) frames++;
        }
        catch (Exception ended) when (over.IsCancellationRequested && ended is OperationCanceledException or WebSocketException)
        {
            return frames;
        }
    }
}
