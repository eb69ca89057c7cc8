using System.Net;
using System.Net.Sockets;
using System.Text;

namespace Mixscore.Page;

/// <summary>
/// Asks a server for all that a browser will ask it for: what answers is compiled and read before one comes, and does not take the
/// processors from it. A page on two cores would else be there a few tenths of a second later, the first times.
/// </summary>
/// <param name="address">Where the server is, on this machine.</param>
internal sealed class FirstVisit(Uri address)
{
    private static readonly TimeSpan OnTheWire = TimeSpan.FromMilliseconds(150);

    /// <summary>Pays it. Never fails: a browser that comes without it waits a little longer.</summary>
    /// <param name="paths">What is asked for, such as <c>/project.json</c>.</param>
    /// <param name="rounds">How often.</param>
    /// <param name="patience">After that it is left off.</param>
    /// <param name="cancellation">Calls it off.</param>
    internal async Task PayAsync(IReadOnlyList<string> paths, int rounds, TimeSpan patience, CancellationToken cancellation)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        ended.CancelAfter(patience);
        try
        {
            for (var round = 0; round < rounds; round++)
            {
                foreach (var path in paths) await AskAsync($"GET {path} HTTP/1.1\r\nHost: {address.Authority}\r\nConnection: close\r\n\r\n", Timeout.InfiniteTimeSpan, ended.Token);
                // RFC 6455, 4.1: the key is any 16 bytes; the wire is cut without a word, as by a browser that crashed.
                var upgrade = $"GET /live HTTP/1.1\r\nHost: {address.Authority}\r\nOrigin: http://{address.Authority}\r\nConnection: Upgrade\r\nUpgrade: websocket\r\n"
                    + $"Sec-WebSocket-Version: 13\r\nSec-WebSocket-Key: {Convert.ToBase64String(new byte[16])}\r\n\r\n";
                await AskAsync(upgrade, OnTheWire, ended.Token);
            }
        }
        catch (Exception problem) when (problem is OperationCanceledException or SocketException or IOException)
        {
            // Nobody has waited for it.
        }
    }

    /// <summary>Asks, and hears the answer to its end, or for so long.</summary>
    private async Task AskAsync(string request, TimeSpan longest, CancellationToken cancellation)
    {
        using var ended = CancellationTokenSource.CreateLinkedTokenSource(cancellation);
        ended.CancelAfter(longest);
        using var socket = new Socket(SocketType.Stream, ProtocolType.Tcp);
        await socket.ConnectAsync(new IPEndPoint(IPAddress.Loopback, address.Port), cancellation);
        await socket.SendAsync(Encoding.ASCII.GetBytes(request), cancellation);
        var heard = new byte[1 << 16];
        try
        {
            while (await socket.ReceiveAsync(heard, ended.Token) > 0) continue;
        }
        catch (OperationCanceledException) when (!cancellation.IsCancellationRequested)
        {
            // A wire does not end by itself.
        }
    }
}
