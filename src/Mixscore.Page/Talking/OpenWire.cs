using System.Net.WebSockets;
using System.Threading.Channels;

namespace Mixscore.Page;

/// <summary>One browser on the wire. What cannot be sent in time is dropped, oldest first, so that a slow browser delays nobody and is shown the truth.</summary>
internal sealed class OpenWire(WebSocket socket, string from) : IDisposable
{
    /// <summary>About a second of everything.</summary>
    private const int MostWaiting = 160;

    /// <summary>Who sends nonsense so often is no page of ours.</summary>
    private const int MostRefusals = 50;

    // What is queued is sent by the thread that queues it, as far as that goes without waiting: a thread of the pool may wait for a
    // processor for 200 ms where other programs want them all, and the sound with it.
    private readonly Channel<(byte[] Bytes, bool IsText)> _waiting =
        Channel.CreateBounded<(byte[], bool)>(new BoundedChannelOptions(MostWaiting) { FullMode = BoundedChannelFullMode.DropOldest, SingleReader = true, AllowSynchronousContinuations = true });

    /// <summary>Takes a whole message; false when it is refused.</summary>
    internal delegate bool Listener(ReadOnlySpan<byte> text);

    /// <summary>Whether it plays the sound; a display of the call does not.</summary>
    internal bool WantsSound { get; set; }

    /// <summary>Where it is; empty for this machine.</summary>
    internal string From => from;

    /// <summary>The page that it belongs to; <c>null</c> for one that only watches.</summary>
    internal HandControl.Seat? Seat { get; set; }

    /// <summary>Whether the other end said that it goes, or was shown out; a wire that is cut says nothing.</summary>
    internal bool IsClosed { get; private set; }

    /// <summary>Queues a message; never waits.</summary>
    internal void Send(byte[] bytes, bool isText = false) => _waiting.Writer.TryWrite((bytes, isText));

    /// <summary>Sends what is queued and hears what comes, until either side ends.</summary>
    internal async Task TalkAsync(Listener heard, CancellationToken ended)
    {
        using var over = CancellationTokenSource.CreateLinkedTokenSource(ended);
        var sending = SendAllAsync(over.Token);
        var hearing = HearAllAsync(heard, over.Token);
        await Task.WhenAny(sending, hearing);
        await over.CancelAsync();
        await Task.WhenAll(Quietly(sending), Quietly(hearing));
    }

    /// <inheritdoc/>
    public void Dispose() => socket.Dispose();

    private async Task SendAllAsync(CancellationToken ended)
    {
        await foreach (var (bytes, isText) in _waiting.Reader.ReadAllAsync(ended))
            await socket.SendAsync(bytes, isText ? WebSocketMessageType.Text : WebSocketMessageType.Binary, endOfMessage: true, ended);
    }

    private async Task HearAllAsync(Listener heard, CancellationToken ended)
    {
        var message = new byte[OrderReader.MostBytes];
        for (var (length, refusals) = (0, 0); ;)
        {
            if (length == message.Length)
            {
                await socket.CloseOutputAsync(WebSocketCloseStatus.MessageTooBig, null, ended);
                return;
            }
            var got = await socket.ReceiveAsync(message.AsMemory(length), ended);
            if (got.MessageType == WebSocketMessageType.Close)
            {
                IsClosed = true;
                return;
            }
            length += got.Count;
            if (!got.EndOfMessage) continue;
            if (got.MessageType != WebSocketMessageType.Text || !heard(message.AsSpan(0, length))) refusals++;
            if (refusals > MostRefusals)
            {
                IsClosed = true;
                await socket.CloseOutputAsync(WebSocketCloseStatus.PolicyViolation, null, ended);
                return;
            }
            length = 0;
        }
    }

    private static async Task Quietly(Task task)
    {
        try
        {
            await task;
        }
        catch (Exception e) when (e is OperationCanceledException or WebSocketException or IOException)
        {
            // The browser went, or the page ends.
        }
    }
}
