using System.Buffers.Binary;
using System.Net;
using System.Net.Sockets;
using System.Net.WebSockets;
using System.Text;
using Mixscore.Live;

namespace Mixscore.Page.Tests;

public sealed class PageServerTests : IAsyncLifetime
{
    private readonly SmallPiece _piece = new();
    private readonly HttpClient _browser = new();
    private LiveSession _session = null!;
    private Rehearsal _rehearsal = null!;
    private PageServer _server = null!;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    public async ValueTask InitializeAsync()
    {
        _session = _piece.NewSession();
        _rehearsal = new Rehearsal(_piece.Project, _session, TimeProvider.System);
        _server = await PageServer.StartAsync(_piece.Project, _rehearsal, new PageOptions(), Ended);
        _rehearsal.Start();
    }

    public async ValueTask DisposeAsync()
    {
        await _server.DisposeAsync();
        _rehearsal.Dispose();
        _session.Dispose();
        _browser.Dispose();
        _piece.Dispose();
    }

    [Fact(Timeout = 60_000)]
    public async Task The_page_may_run_and_show_only_what_comes_from_here()
    {
        using var answer = await _browser.GetAsync(_server.Address, Ended);
        Assert.Equal(HttpStatusCode.OK, answer.StatusCode);
        var policy = Assert.Single(answer.Headers.GetValues("Content-Security-Policy"));
        Assert.Contains("default-src 'none'", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("unsafe-inline", policy, StringComparison.Ordinal);
        Assert.DoesNotContain("'unsafe-eval'", policy, StringComparison.Ordinal);
        var page = await answer.Content.ReadAsStringAsync(Ended);
        Assert.DoesNotContain("://", page.Replace("http://www.w3.org", "", StringComparison.Ordinal), StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_project_has_a_port_of_its_own_and_another_where_that_is_taken()
    {
        var usual = UsualPort.Of(_piece.Project.Plan.File);
        Assert.Equal(usual, _server.Address.Port);
        await using var second = await PageServer.StartAsync(_piece.Project, _rehearsal, new PageOptions(), Ended);
        Assert.NotEqual(usual, second.Address.Port);
        Assert.NotEqual(usual, UsualPort.Of(_piece.Project.Plan.File + "2"));
        await Assert.ThrowsAsync<IOException>(() => PageServer.StartAsync(_piece.Project, _rehearsal, new PageOptions { Port = usual }, Ended));
    }

    [Fact(Timeout = 60_000)]
    public async Task It_listens_to_this_machine_alone()
    {
        foreach (var address in (await Dns.GetHostAddressesAsync(Dns.GetHostName(), Ended)).Where(address => !IPAddress.IsLoopback(address)))
        {
            using var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
            await Assert.ThrowsAnyAsync<SocketException>(async () => await socket.ConnectAsync(address, _server.Address.Port, Ended));
        }
        Assert.Equal("127.0.0.1", _server.Address.Host);
    }

    [Theory(Timeout = 60_000), InlineData("evil.example"), InlineData("127.0.0.1.evil.example"), InlineData("127.0.0.1:1"), InlineData("[::1]")]
    public async Task Another_host_is_turned_away(string host)
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, _server.Address);
        request.Headers.Host = host;
        using var answer = await _browser.SendAsync(request, Ended);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Theory(Timeout = 60_000), InlineData("http://evil.example"), InlineData("null"), InlineData("https://127.0.0.1"), InlineData(null)]
    public async Task A_wire_from_another_page_is_turned_away(string? origin)
    {
        using var socket = new ClientWebSocket();
        if (origin is not null) socket.Options.SetRequestHeader("Origin", origin);
        var refused = await Assert.ThrowsAsync<WebSocketException>(() => socket.ConnectAsync(Wire, Ended));
        Assert.Contains("403", refused.Message, StringComparison.Ordinal);
    }

    [Theory(Timeout = 60_000)]
    [InlineData("/../small.mix.yaml"), InlineData("/..%2f..%2fetc/passwd"), InlineData("/assets/../../mixscore.dll"), InlineData("/%2e%2e/%2e%2e/etc/passwd")]
    [InlineData("//etc/passwd"), InlineData("/stems/voice.wav"), InlineData("/small.mix.yaml"), InlineData("/..\\..\\etc\\passwd"), InlineData("/page/index.html%00.js")]
    public async Task No_path_reaches_a_file_that_is_not_the_page_s(string path)
    {
        // Sent as it stands: a client of ours would tidy the path up first.
        using var socket = new TcpClient();
        await socket.ConnectAsync(IPAddress.Loopback, _server.Address.Port, Ended);
        await using var stream = socket.GetStream();
        await stream.WriteAsync(Encoding.ASCII.GetBytes($"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{_server.Address.Port}\r\nConnection: close\r\n\r\n"), Ended);
        using var reader = new StreamReader(stream);
        var answer = await reader.ReadToEndAsync(Ended);
        Assert.Matches("^HTTP/1.1 40[04] ", answer);
        Assert.DoesNotContain("root:", answer, StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task Nothing_can_be_written()
    {
        using var answer = await _browser.PostAsync(new Uri(_server.Address, "project.json"), new StringContent("{}"), Ended);
        Assert.Equal(HttpStatusCode.MethodNotAllowed, answer.StatusCode);
    }

    [Fact(Timeout = 60_000)]
    public async Task Sound_comes_without_a_hole_and_the_values_say_where_it_is()
    {
        using var socket = await JoinAsync();
        await SendAsync(socket, "sound");
        await SendAsync(socket, """{"do":"jump","n":1,"at":"A"}""");
        await SendAsync(socket, """{"do":"play","n":2}""");
        var blocks = new List<(byte Flags, double At)>();
        var values = 0;
        while (blocks.Count < 50)
        {
            var frame = await ReceiveAsync(socket);
            if (frame[0] == 1) blocks.Add((frame[1], BinaryPrimitives.ReadDoubleLittleEndian(frame.AsSpan(8))));
            if (frame[0] != 2) continue;
            values++;
            Assert.Equal(Frames.ValuesHeader + 2 * Frames.PerSource, frame.Length);
        }
        Assert.Equal((1, 4.0), (blocks[0].Flags & 1, blocks[0].At));
        for (var i = 1; i < blocks.Count; i++) Assert.Equal(0.01, blocks[i].At - blocks[i - 1].At, 1e-9);
        Assert.InRange(values, 15, 60);
    }

    [Fact(Timeout = 60_000)]
    public async Task What_is_no_order_is_refused_and_who_keeps_at_it_is_shown_out_while_others_go_on()
    {
        using var good = await JoinAsync();
        using var bad = await JoinAsync();
        await SendAsync(bad, "{\"do\":\"fly\",\"n\":1}");
        Assert.Contains("no such order", await TextAsync(bad, "refused"), StringComparison.Ordinal);
        for (var i = 0; i < 60 && bad.State == WebSocketState.Open; i++) await TrySendAsync(bad, "nonsense");
        await UntilClosedAsync(bad);
        Assert.Contains("\"has\":true", await TextAsync(good, "\"hand\""), StringComparison.Ordinal);
        await SendAsync(good, """{"do":"loop","n":1,"first":2,"last":3}""");
        Assert.Contains("[2,3]", await TextAsync(good, "loop\":["), StringComparison.Ordinal);
    }

    [Fact(Timeout = 60_000)]
    public async Task Who_is_shown_out_does_not_keep_the_hand()
    {
        using var bad = await JoinAsync();
        using var good = await JoinAsync();
        for (var i = 0; i < 60 && bad.State == WebSocketState.Open; i++) await TrySendAsync(bad, "nonsense");
        await UntilClosedAsync(bad);
        await SendAsync(good, """{"do":"ask","on":true}""");
        await TextAsync(good, "\"has\":true");
    }

    [Fact(Timeout = 60_000)]
    public async Task An_order_that_does_not_end_is_not_waited_for()
    {
        using var socket = await JoinAsync();
        await socket.SendAsync(new byte[4096], WebSocketMessageType.Text, endOfMessage: false, Ended);
        await UntilClosedAsync(socket);
    }

    private Uri Wire => new($"ws://127.0.0.1:{_server.Address.Port}/live");

    private async Task<ClientWebSocket> JoinAsync()
    {
        var socket = new ClientWebSocket();
        socket.Options.SetRequestHeader("Origin", $"http://127.0.0.1:{_server.Address.Port}");
        await socket.ConnectAsync(Wire, Ended);
        Assert.Contains("hello", await TextAsync(socket), StringComparison.Ordinal);
        Assert.Contains("state", await TextAsync(socket), StringComparison.Ordinal);
        await SendAsync(socket, $$"""{"do":"join","word":"{{Guid.NewGuid()}}"}""");
        // Seated: who comes next comes later.
        await TextAsync(socket, "\"you\":\"page");
        return socket;
    }

    private static Task SendAsync(ClientWebSocket socket, string text) => socket.SendAsync(Encoding.UTF8.GetBytes(text), WebSocketMessageType.Text, endOfMessage: true, Ended);

    private static async Task TrySendAsync(ClientWebSocket socket, string text)
    {
        try
        {
            await SendAsync(socket, text);
        }
        catch (WebSocketException)
        {
            // Shown out already.
        }
    }

    private static async Task<byte[]> ReceiveAsync(ClientWebSocket socket)
    {
        var buffer = new byte[16384];
        for (var length = 0; ;)
        {
            var got = await socket.ReceiveAsync(buffer.AsMemory(length), Ended);
            length += got.Count;
            if (got.MessageType == WebSocketMessageType.Close) return [];
            if (got.EndOfMessage) return buffer[..length];
        }
    }

    private static async Task<string> TextAsync(ClientWebSocket socket, string with = "")
    {
        while (true)
            if (await ReceiveAsync(socket) is var frame && frame.Length > 0 && frame[0] == (byte)'{' && Encoding.UTF8.GetString(frame) is var text && text.Contains(with, StringComparison.Ordinal))
                return text;
    }

    private static async Task UntilClosedAsync(ClientWebSocket socket)
    {
        try
        {
            while (socket.State == WebSocketState.Open && (await ReceiveAsync(socket)).Length > 0)
            {
                // What was on its way.
            }
        }
        catch (WebSocketException)
        {
            // Cut off.
        }
        Assert.NotEqual(WebSocketState.Open, socket.State);
    }
}
