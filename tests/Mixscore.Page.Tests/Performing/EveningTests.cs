using System.Buffers.Binary;
using System.Text.Json;
using Mixscore.Live;

namespace Mixscore.Page.Tests;

/// <summary>A performance as a page has it, in the time of this machine, without a desk.</summary>
public sealed class EveningTests : IDisposable
{
    private readonly SmallPiece _piece = new();
    private readonly LiveSession _session;
    private readonly Evening _evening;
    private readonly Lock _gate = new();
    private readonly List<string> _told = [];
    private byte[] _frame = [];

    public EveningTests()
    {
        _session = _piece.NewSession(isPerformance: true);
        _evening = new Evening(_session, ClockKind.Click, TimeProvider.System, _piece.PathOf("small.mix.yaml"));
        _evening.Reported += () => Volatile.Write(ref _frame, _evening.Values());
        _evening.Told += message =>
        {
            lock (_gate) _told.Add(JsonDocument.Parse(message).RootElement.GetProperty("what").GetString()!);
        };
        _evening.Start();
    }

    public void Dispose()
    {
        _evening.Dispose();
        _session.Dispose();
        _piece.Dispose();
    }

    // Two bars of 4/4 at 120 are counted in: the page is told the beats that are left, and stands where the music will begin.
    [Fact]
    public async Task It_is_armed_started_counted_in_stopped_and_tells_so()
    {
        Assert.Null(_evening.Post(new Order.Arm(1, true)));
        Assert.Null(_evening.Post(new Order.Start(2, 8)));
        await UntilAsync(() => CountIn > 0);
        Assert.InRange(CountIn, 0.1, 8);
        Assert.Equal(8, Quarters, 1e-6);
        await UntilAsync(() => State().GetProperty("armed").GetBoolean() && State().GetProperty("phase").GetString() == "running");
        await UntilAsync(() => CountIn == 0 && Quarters > 8.2);
        Assert.Null(_evening.Post(new Order.Stay(3, Still: false)));
        await UntilAsync(() => State().GetProperty("stay").GetString() == "bar");
        Assert.Null(_evening.Post(new Order.Release(4)));
        Assert.Null(_evening.Post(new Order.Jump(5, 16)));
        await UntilAsync(() => State().GetProperty("jumpsTo").GetString() is "3@2");
        Assert.Null(_evening.Post(new Order.Stop(6)));
        await UntilAsync(() => State().GetProperty("phase").GetString() == "stopped");
        await UntilAsync(() => Has("stopped"));
        Assert.True(Has("armed") && Has("started") && Has("stays on the bar"));
        Assert.NotEmpty(_evening.Recent);
    }

    [Fact]
    public async Task A_plan_that_is_changed_meanwhile_is_told_of()
    {
        var plan = _piece.PathOf("small.mix.yaml");
        var text = await File.ReadAllTextAsync(plan, TestContext.Current.CancellationToken);
        Assert.Equal(JsonValueKind.Null, State().GetProperty("notice").ValueKind);
        await File.WriteAllTextAsync(plan, text + "# other\n", TestContext.Current.CancellationToken);
        await UntilAsync(() => State().GetProperty("notice").GetString()?.StartsWith("The plan on disk", StringComparison.Ordinal) == true);
        await File.WriteAllTextAsync(plan, text, TestContext.Current.CancellationToken);
        await UntilAsync(() => State().GetProperty("notice").ValueKind == JsonValueKind.Null);
    }

    [Fact]
    public async Task A_link_is_said_to_be_gone_and_a_hand_takes_and_hands_back()
    {
        Assert.Null(_evening.Post(new Order.Link(1, "near", IsUp: false)));
        await UntilAsync(() => (Flags(0) & 4) != 0 && (Flags(1) & 4) != 0);
        Assert.Null(_evening.Post(new Order.Link(2, "near", IsUp: true)));
        await UntilAsync(() => (Flags(0) & 4) == 0);
        Assert.Null(_evening.Post(new Order.Take(3, 0, -12)));
        await UntilAsync(() => _frame[Frames.ValuesHeader + 20] == 1);
        Assert.Null(_evening.Post(new Order.Back(4, 0)));
        await UntilAsync(() => _frame[Frames.ValuesHeader + 20] == 0);
    }

    [Fact]
    public void What_is_for_a_rehearsal_is_refused()
    {
        foreach (var order in new Order[] { new Order.Play(1), new Order.Pause(2), new Order.Loop(3, null), new Order.Mute(4, 0, true), new Order.Solo(5, 0, true) })
            Assert.Contains("rehearsal", _evening.Post(order), StringComparison.Ordinal);
    }

    private double Quarters => BinaryPrimitives.ReadDoubleLittleEndian(Volatile.Read(ref _frame).AsSpan(16));

    private double CountIn => BinaryPrimitives.ReadSingleLittleEndian(Volatile.Read(ref _frame).AsSpan(32));

    private int Flags(int source) => Volatile.Read(ref _frame)[Frames.ValuesHeader + source * Frames.PerSource + 21];

    private JsonElement State() => JsonDocument.Parse(_evening.State()).RootElement;

    private bool Has(string what)
    {
        lock (_gate) return _told.Contains(what);
    }

    private async Task UntilAsync(Func<bool> so)
    {
        using var patience = CancellationTokenSource.CreateLinkedTokenSource(TestContext.Current.CancellationToken);
        patience.CancelAfter(TimeSpan.FromSeconds(20));
        while (_frame.Length == 0 || !so()) await Task.Delay(5, patience.Token);
    }
}
