using Mixscore.Live;
using Mixscore.Page;
using Mixscore.Project;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>The page of a performance: opened beside the run, which does not wait for it and goes on without it.</summary>
/// <param name="session">The run.</param>
/// <param name="clock">What tells it where the piece is.</param>
/// <param name="say">Tells the engineer.</param>
internal sealed class PerformedPage(LiveSession session, ClockKind clock, Action<string> say) : IAsyncDisposable
{
    private readonly CancellationTokenSource _ending = new();
    private Task _opening = Task.CompletedTask;
    private Evening? _evening;
    private PageServer? _server;

    /// <summary>Begins to open the page; where it is, or why it is not, is said when it is known.</summary>
    internal void Open(OpenProject project, Terminal terminal, PageOptions options, bool opensBrowser) => _opening = Task.Run(async () =>
    {
        try
        {
            var shown = await PageStep.OfAsync(project, [.. session.Run.Plan.Sources.Select(source => source.Ride)], terminal, _ending.Token);
            _evening = new Evening(session, clock, TimeProvider.System, project.Plan.File);
            _server = await PageServer.StartAsync(shown, _evening, options, _ending.Token);
            _evening.Start();
            foreach (var line in PageLinks.Of(_server)) say(line);
            if (PageServer.HasPage && opensBrowser) Browser.Open(_server.Address);
        }
        catch (OperationCanceledException)
        {
            // The night ended before the page was there.
        }
        catch (Exception problem)
        {
            say($"There is no page, since {problem.Message} The run goes on; control it from here or by OSC.");
        }
    });

    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        await _opening;
        if (_server is not null) await _server.DisposeAsync();
        _evening?.Dispose();
        _ending.Dispose();
    }
}
