using System.Net.WebSockets;
using System.Text.Json;

namespace Mixscore.Page;

/// <summary>All browsers that are connected: what a run reports goes to each, and what the one that has the hand orders goes to the run.</summary>
internal sealed class LiveHub : IDisposable
{
    private readonly PageRun _run;
    private readonly EditedProject? _edited;
    private readonly OrderReader _orders;
    private readonly HandControl _hand;
    private readonly string _key;
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _ending = new();
    private const int ReportsPerTruth = 50;
    private OpenWire[] _wires = [];
    private int _reports;

    /// <param name="run">What is shown and ordered.</param>
    /// <param name="edited">The plan that is edited; <c>null</c> where its marks are locked.</param>
    /// <param name="orders">Reads what pages say.</param>
    /// <param name="hand">Who may order.</param>
    /// <param name="key">Tells one start of the server from the next.</param>
    internal LiveHub(PageRun run, EditedProject? edited, OrderReader orders, HandControl hand, string key)
    {
        (_run, _edited, _orders, _hand, _key) = (run, edited, orders, hand, key);
        run.Sounded += block => ToAll(wire => wire.WantsSound, () => Frames.Of(block));
        run.Reported += Report;
        run.Changed += () => ToAll(_ => true, run.State, isText: true);
        run.Told += message => ToAll(_ => true, () => message, isText: true);
        hand.Changed += TellHands;
        if (edited is null) return;
        edited.Stood += () => ToAll(_ => true, edited.Standing, isText: true);
        edited.Renewed += _ => ToAll(_ => true, () => """{"kind":"plan"}"""u8.ToArray(), isText: true);
    }

    /// <summary>Talks with a browser until it goes.</summary>
    /// <param name="socket">Its wire.</param>
    /// <param name="from">Where it is; empty for this machine.</param>
    /// <param name="aborted">Cancelled when the wire is cut.</param>
    internal async Task ServeAsync(WebSocket socket, string from, CancellationToken aborted)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(aborted, _ending.Token);
        using var wire = new OpenWire(socket, from);
        wire.Send(Hello(), isText: true);
        wire.Send(_run.State(), isText: true);
        if (_edited is not null) wire.Send(_edited.Standing(), isText: true);
        foreach (var told in _run.Recent) wire.Send(told, isText: true);
        lock (_gate) _wires = [.. _wires, wire];
        try
        {
            await wire.TalkAsync(text => Hear(wire, text), ended.Token);
        }
        finally
        {
            lock (_gate) _wires = [.. _wires.Where(other => other != wire)];
            if (wire.Seat is { } seat) _hand.Leave(seat, wire.IsClosed);
        }
    }

    /// <summary>Ends all talks.</summary>
    internal void Close() => _ending.Cancel();

    /// <inheritdoc/>
    public void Dispose() => _ending.Dispose();

    private bool Hear(OpenWire wire, ReadOnlySpan<byte> text)
    {
        if (text.SequenceEqual("sound"u8)) wire.WantsSound = true;
        else if (text.SequenceEqual("silence"u8)) wire.WantsSound = false;
        else if (!_orders.TryRead(text, out var order, out var problem)) return Refuse(wire, problem);
        else if (order is HandOrder hand) return Hear(wire, hand) is not { } no || Refuse(wire, no, isNonsense: false);
        else if (wire.Seat is not { } seat || !_hand.Has(seat)) return Refuse(wire, "another page has the hand: ask for it", isNonsense: false);
        else if (order is EditOrder edit) return (_edited is null ? "marks are locked during a performance" : _edited.Do(edit)) is not { } why || Refuse(wire, why, isNonsense: false);
        else if (_run.Post((Order)order!) is { } refused) return Refuse(wire, refused, isNonsense: false);
        return true;
    }

    private string? Hear(OpenWire wire, HandOrder order)
    {
        if (order is HandOrder.Join join)
        {
            if (wire.Seat is null) Seat(wire, _hand.Join(join.Word, wire.From));
            return null;
        }
        if (wire.Seat is not { } seat) return "join first";
        switch (order)
        {
            case HandOrder.Ask ask: _hand.Ask(seat, ask.Asks); return null;
            case HandOrder.Answer answer: return _hand.Answer(seat, answer.Name, answer.Gives);
            default: return "this is no order";
        }
    }

    // A page that comes twice under one word, as a copied tab does, orders from its newest wire alone.
    private void Seat(OpenWire wire, HandControl.Seat seat)
    {
        foreach (var other in Volatile.Read(ref _wires))
        {
            if (other == wire || other.Seat != seat) continue;
            other.Seat = null;
            _hand.Leave(seat);
        }
        wire.Seat = seat;
        TellHands();
    }

    private void Report()
    {
        ToAll(_ => true, _run.Values);
        // A slow browser may have missed what is told only once.
        if (++_reports % ReportsPerTruth != 0) return;
        ToAll(_ => true, _run.State, isText: true);
        if (_edited is not null) ToAll(_ => true, _edited.Standing, isText: true);
        TellHands();
    }

    private static bool Refuse(OpenWire wire, string why, bool isNonsense = true)
    {
        wire.Send(JsonSerializer.SerializeToUtf8Bytes(new { kind = "refused", why }), isText: true);
        return !isNonsense;
    }

    private void TellHands()
    {
        foreach (var wire in Volatile.Read(ref _wires)) wire.Send(HandOf(wire), isText: true);
    }

    private byte[] HandOf(OpenWire wire)
    {
        var (has, name, holder, isThere, asks, asking) = _hand.For(wire.Seat);
        return JsonSerializer.SerializeToUtf8Bytes(new { kind = "hand", you = name, has, holder, there = isThere, asks, asking });
    }

    private void ToAll(Func<OpenWire, bool> wants, Func<byte[]> make, bool isText = false)
    {
        byte[]? bytes = null;
        foreach (var wire in Volatile.Read(ref _wires))
            if (wants(wire)) wire.Send(bytes ??= make(), isText);
    }

    private byte[] Hello() => JsonSerializer.SerializeToUtf8Bytes(new { kind = "hello", rate = _run.Rate, clock = $"{_run.Clock}".ToLowerInvariant(), key = _key });
}
