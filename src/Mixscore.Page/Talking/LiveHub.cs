using System.Net.WebSockets;
using System.Text;
using System.Text.Json;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>All browsers that are connected: what a rehearsal reports goes to each, and what each orders goes to the rehearsal.</summary>
internal sealed class LiveHub : IDisposable
{
    private readonly Rehearsal _rehearsal;
    private readonly OrderReader _orders;
    private readonly Lock _gate = new();
    private readonly CancellationTokenSource _ending = new();
    private OpenWire[] _wires = [];

    internal LiveHub(Rehearsal rehearsal, IReadOnlyList<string> sources, Timeline timeline)
    {
        (_rehearsal, _orders) = (rehearsal, new OrderReader(sources, timeline));
        rehearsal.Sounded += block => ToAll(wire => wire.WantsSound, () => Frames.Of(block));
        rehearsal.Reported += (player, picture) => ToAll(_ => true, () => Frames.Of(player, picture));
        rehearsal.LoopChanged += loop => ToAll(_ => true, () => State(loop), isText: true);
    }

    /// <summary>Talks with a browser until it goes.</summary>
    internal async Task ServeAsync(WebSocket socket, CancellationToken aborted)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(aborted, _ending.Token);
        using var wire = new OpenWire(socket);
        wire.Send(Hello(), isText: true);
        wire.Send(State(_rehearsal.Loop), isText: true);
        lock (_gate) _wires = [.. _wires, wire];
        try
        {
            await wire.TalkAsync(text => Hear(wire, text), ended.Token);
        }
        finally
        {
            lock (_gate) _wires = [.. _wires.Where(other => other != wire)];
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
        else if (_orders.TryRead(text, out var order, out var problem)) _rehearsal.Post(order!);
        else
        {
            wire.Send(JsonSerializer.SerializeToUtf8Bytes(new { kind = "refused", why = problem }), isText: true);
            return false;
        }
        return true;
    }

    private void ToAll(Func<OpenWire, bool> wants, Func<byte[]> make, bool isText = false)
    {
        byte[]? bytes = null;
        foreach (var wire in Volatile.Read(ref _wires))
            if (wants(wire)) wire.Send(bytes ??= make(), isText);
    }

    private byte[] Hello() => Encoding.UTF8.GetBytes($$"""{"kind":"hello","rate":{{_rehearsal.Rate}}}""");

    private static byte[] State((int First, int Last)? loop) =>
        JsonSerializer.SerializeToUtf8Bytes(new { kind = "state", loop = loop is { } bars ? new[] { bars.First, bars.Last } : null });
}
