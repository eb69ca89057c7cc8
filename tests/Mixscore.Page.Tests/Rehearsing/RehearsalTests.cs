using Mixscore.Live;

namespace Mixscore.Page.Tests;

/// <summary>A rehearsal with its live run, in the time of this machine.</summary>
public sealed class RehearsalTests : IDisposable
{
    private readonly SmallPiece _piece = new();
    private readonly LiveSession _session;
    private readonly Rehearsal _rehearsal;

    public RehearsalTests()
    {
        _session = _piece.NewSession();
        _rehearsal = new Rehearsal(_piece.Project, _session, TimeProvider.System);
        _rehearsal.Start();
    }

    public void Dispose()
    {
        _rehearsal.Dispose();
        _session.Dispose();
        _piece.Dispose();
    }

    [Fact]
    public async Task A_hand_takes_hands_back_and_the_log_has_it()
    {
        _rehearsal.Post(new Order.Play(1));
        _rehearsal.Post(new Order.Take(2, 0, -12));
        await UntilAsync(picture => picture.Sources[0] is { Holder: Holder.InHand, Gain.Value: -12 });
        _rehearsal.Post(new Order.Back(3, 0));
        await UntilAsync(picture => picture.Sources[0] is { Holder: Holder.Planned, Gain.Value: 0 });
        _rehearsal.Post(new Order.Offset(4, 1, 3));
        await UntilAsync(picture => picture.Sources[1] is { Holder: Holder.Planned, Gain.Value: -3 });
        // The log is on the disk within a fifth of a second; its last line may be half there.
        string[] wanted = ["\"take\"", "\"back\"", "\"planned\"", "\"offset\""];
        await UntilAsync(_ => wanted.All(Log().Contains));
        Assert.Contains("near.voice", Log(), StringComparison.Ordinal);
    }

    private string Log()
    {
        using var file = new FileStream(Assert.Single(Directory.GetFiles(_piece.PathOf("log"))), FileMode.Open, FileAccess.Read, FileShare.ReadWrite);
        using var reader = new StreamReader(file);
        return reader.ReadToEnd();
    }

    [Fact]
    public async Task The_run_is_where_the_sound_is()
    {
        _rehearsal.Post(new Order.Jump(1, 16));
        await UntilAsync(picture => picture.At.Value == 8);
        _rehearsal.Post(new Order.Loop(2, (2, 2)));
        _rehearsal.Post(new Order.Play(3));
        // Bar 2 lasts from 2 s to 4 s: it is gone to, and come back to.
        await UntilAsync(picture => picture.At.Value is > 3.8 and < 4);
        await UntilAsync(picture => picture.At.Value is > 2 and < 2.2);
        _rehearsal.Post(new Order.Pause(4));
        await UntilAsync(picture => picture.Phase == RunPhase.Stopped);
    }

    private async Task UntilAsync(Func<RunPicture, bool> so)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromSeconds(20));
        while (!so(_session.Run.View.Look())) await Task.Delay(2, patience.Token);
    }
}
