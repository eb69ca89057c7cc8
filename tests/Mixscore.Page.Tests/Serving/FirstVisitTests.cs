using System.Collections.Concurrent;
using System.Net;
using System.Net.Sockets;
using System.Net.WebSockets;
using System.Text;

namespace Mixscore.Page.Tests;

public sealed class FirstVisitTests
{
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(20);

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    [Fact(Timeout = 60_000)]
    public async Task All_is_asked_for_in_each_round_and_the_wire_as_a_page_does()
    {
        using var server = new Answering("HTTP/1.1 200 OK\r\nConnection: close\r\n\r\n");
        await new FirstVisit(server.Address).PayAsync(["/", "/project.json"], 2, Patience, Ended);
        Assert.Equal(["GET / ", "GET /live ", "GET /project.json "], server.Asked.Select(asked => asked[..asked.IndexOf("HTTP", StringComparison.Ordinal)]).Distinct().Order(StringComparer.Ordinal));
        Assert.Equal(6, server.Asked.Count);
        Assert.All(server.Asked, asked => Assert.Contains($"\r\nHost: {server.Address.Authority}\r\n", asked, StringComparison.Ordinal));
        // RFC 6455, 4.1: what an upgrade must bring; and the origin, without which the door stays shut.
        var wire = server.Asked.First(asked => asked.StartsWith("GET /live", StringComparison.Ordinal));
        foreach (var header in new[] { "Upgrade: websocket", "Connection: Upgrade", "Sec-WebSocket-Version: 13", "Sec-WebSocket-Key: AAAAAAAAAAAAAAAAAAAAAA==", $"Origin: http://{server.Address.Authority}" })
            Assert.Contains($"\r\n{header}\r\n", wire, StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_server_that_says_nothing_is_left_after_a_while()
    {
        using var server = new Answering(null);
        await new FirstVisit(server.Address).PayAsync(["/"], 1, TimeSpan.FromMilliseconds(200), Ended);
        Assert.Single(server.Asked);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_server_that_is_gone_is_no_fault()
    {
        Uri address;
        using (var server = new Answering(null)) address = server.Address;
        await new FirstVisit(address).PayAsync(["/"], 1, Patience, Ended);
    }

    // What a visit leaves behind would be seen: the first page that comes has the hand, as if nobody had been there.
    [Fact(Timeout = 60_000)]
    public async Task A_page_server_that_made_itself_ready_is_as_new()
    {
        using var piece = new SmallPiece();
        using var session = piece.NewSession();
        using var rehearsal = new Rehearsal(piece.Project, session, TimeProvider.System);
        await using var server = await PageServer.StartAsync(piece.Project, rehearsal, new PageOptions(), Ended);
        rehearsal.Start();
        server.BeReady();

        using var wire = new ClientWebSocket();
        wire.Options.SetRequestHeader("Origin", server.Address.GetLeftPart(UriPartial.Authority));
        await wire.ConnectAsync(new UriBuilder(server.Address) { Scheme = "ws", Path = "/live" }.Uri, Ended);
        await wire.SendAsync(Encoding.UTF8.GetBytes($$"""{"do":"join","word":"{{Guid.NewGuid()}}"}"""), WebSocketMessageType.Text, true, Ended);
        var buffer = new byte[1 << 16];
        for (var heard = ""; !heard.Contains("\"has\":true", StringComparison.Ordinal);)
        {
            var got = await wire.ReceiveAsync(buffer, Ended);
            if (got.MessageType == WebSocketMessageType.Text) heard = Encoding.UTF8.GetString(buffer, 0, got.Count);
            Assert.DoesNotContain("refused", heard, StringComparison.Ordinal);
        }
    }

    /// <summary>Writes down what it is asked, and answers all with the same; or nothing.</summary>
    private sealed class Answering : IDisposable
    {
        private readonly TcpListener _listener = new(IPAddress.Loopback, 0);
        private readonly ConcurrentBag<Socket> _open = [];

        internal Answering(string? answer)
        {
            _listener.Start();
            Address = new Uri($"http://127.0.0.1:{((IPEndPoint)_listener.LocalEndpoint).Port}/");
            _ = ListenAsync(answer);
        }

        internal Uri Address { get; }

        internal ConcurrentBag<string> Asked { get; } = [];

        private async Task ListenAsync(string? answer)
        {
            try
            {
                while (await _listener.AcceptSocketAsync(Ended) is { } socket)
                {
                    _open.Add(socket);
                    var buffer = new byte[4096];
                    var length = await socket.ReceiveAsync(buffer, Ended);
                    Asked.Add(Encoding.ASCII.GetString(buffer, 0, length));
                    if (answer is null) continue;
                    await socket.SendAsync(Encoding.ASCII.GetBytes(answer), Ended);
                    socket.Shutdown(SocketShutdown.Both);
                }
            }
            catch (Exception problem) when (problem is SocketException or OperationCanceledException or ObjectDisposedException)
            {
                // It was told to end.
            }
        }

        public void Dispose()
        {
            _listener.Dispose();
            foreach (var socket in _open) socket.Dispose();
        }
    }
}
