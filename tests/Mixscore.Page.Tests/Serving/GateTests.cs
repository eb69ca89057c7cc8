using System.Net;
using System.Net.Sockets;
using System.Net.WebSockets;
using Mixscore.Live;

namespace Mixscore.Page.Tests;

/// <summary>A server that listens to a network too. The network is 127.0.0.2: another address of this machine, reached from nowhere else.</summary>
public sealed class GateTests : IAsyncLifetime
{
    private static readonly IPAddress Network = IPAddress.Parse("127.0.0.2");
    private readonly SmallPiece _piece = new();
    private readonly GateTime _time = new();
    private readonly PassPhrase _phrase = PassPhrase.Of("four tall ferries");
    private readonly HttpClient _browser = new(new HttpClientHandler { AllowAutoRedirect = false, UseCookies = false });
    private LiveSession _session = null!;
    private Rehearsal _rehearsal = null!;
    private PageServer _server = null!;

    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    private Uri Outside(string path) => new($"http://127.0.0.2:{_server.Address.Port}{path}");

    public async ValueTask InitializeAsync()
    {
        _session = _piece.NewSession();
        _rehearsal = new Rehearsal(_piece.Project, _session, TimeProvider.System);
        _server = await PageServer.StartAsync(_piece.Project, _rehearsal, new PageOptions { Listen = Network, PassPhrase = _phrase, Time = _time }, Ended);
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
    public async Task A_network_without_a_pass_phrase_is_not_listened_to() =>
        await Assert.ThrowsAsync<ArgumentException>(() => PageServer.StartAsync(_piece.Project, _rehearsal, new PageOptions { Listen = Network }, Ended));

    [Theory(Timeout = 60_000), InlineData("/"), InlineData("/call"), InlineData("/project.json"), InlineData("/score.xml"), InlineData("/live"), InlineData("/mark.svg")]
    public async Task From_outside_nothing_is_shown_without_the_phrase_and_here_all_is(string path)
    {
        using var outside = await _browser.GetAsync(Outside(path), Ended);
        Assert.Equal(HttpStatusCode.Unauthorized, path == "/live" ? await WireAsync(null) : outside.StatusCode);
        if (path == "/live") return;
        Assert.DoesNotContain("near.voice", await outside.Content.ReadAsStringAsync(Ended), StringComparison.Ordinal);
        using var here = await _browser.GetAsync(new Uri(_server.Address, path), Ended);
        Assert.Equal(HttpStatusCode.OK, here.StatusCode);
    }

    // The printed link, and the phrase typed: either way a cookie that no script can read lets the browser in, wire and all.
    [Theory(Timeout = 60_000), InlineData(true), InlineData(false)]
    public async Task Who_knows_the_phrase_is_let_in(bool byLink)
    {
        using var answer = byLink
            ? await _browser.GetAsync(Assert.Single(_server.Network), Ended)
            : await _browser.PostAsync(Outside("/enter"), new FormUrlEncodedContent([new("pass", "four tall ferries")]), Ended);
        Assert.Equal(HttpStatusCode.SeeOther, answer.StatusCode);
        var set = Assert.Single(answer.Headers.GetValues("Set-Cookie"));
        Assert.Contains("httponly", set, StringComparison.OrdinalIgnoreCase);
        Assert.Contains("samesite=lax", set, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("ferries", set, StringComparison.Ordinal);
        var cookie = set.Split(';')[0];
        using var request = new HttpRequestMessage(HttpMethod.Get, Outside("/project.json"));
        request.Headers.Add("Cookie", cookie);
        using var project = await _browser.SendAsync(request, Ended);
        Assert.Equal(HttpStatusCode.OK, project.StatusCode);
        Assert.Equal(HttpStatusCode.SwitchingProtocols, await WireAsync(cookie));
    }

    [Theory(Timeout = 60_000), InlineData("mixscore-{0}="), InlineData("mixscore-{0}=0000"), InlineData("mixscore-1=four tall ferries")]
    public async Task A_cookie_that_is_made_up_is_worth_nothing(string cookie) =>
        Assert.Equal(HttpStatusCode.Unauthorized, await WireAsync(string.Format(null, cookie, _server.Address.Port)));

    // 1 s, 2 s, 4 s … a minute: a thousand guesses take most of a day, and 79 bits are not guessed in a thousand.
    [Fact(Timeout = 60_000)]
    public async Task Guesses_are_slowed_and_the_right_phrase_waits_like_any_other()
    {
        var waits = new List<double>();
        for (var i = 0; i < 9; i++)
        {
            Assert.Equal(HttpStatusCode.Unauthorized, (await GuessAsync($"guess number {i}")).Code);
            var (code, wait) = await GuessAsync("four tall ferries");
            Assert.Equal(HttpStatusCode.TooManyRequests, code);
            waits.Add(wait);
            _time.Now += TimeSpan.FromSeconds(wait);
        }
        Assert.Equal([1, 2, 4, 8, 16, 32, 64, 64, 64], waits);
        Assert.Equal(HttpStatusCode.SeeOther, (await GuessAsync("four tall ferries")).Code);
        Assert.Equal(HttpStatusCode.Unauthorized, (await GuessAsync("wrong again")).Code);
        Assert.Equal(1, (await GuessAsync("wrong again")).Wait);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_foreign_host_is_turned_away_before_the_phrase_is_looked_at()
    {
        using var request = new HttpRequestMessage(HttpMethod.Get, _server.Network[0]);
        request.Headers.Host = "ferry.example";
        using var answer = await _browser.SendAsync(request, Ended);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact(Timeout = 60_000)]
    public async Task A_form_sent_from_another_page_is_turned_away()
    {
        using var request = new HttpRequestMessage(HttpMethod.Post, Outside("/enter")) { Content = new FormUrlEncodedContent([new("pass", "four tall ferries")]) };
        request.Headers.Add("Origin", "http://evil.example");
        using var answer = await _browser.SendAsync(request, Ended);
        Assert.Equal(HttpStatusCode.Forbidden, answer.StatusCode);
    }

    [Fact]
    public void Phrases_are_long_and_never_the_same()
    {
        var phrases = Enumerable.Range(0, 3).Select(_ => PassPhrase.New().Text).ToArray();
        Assert.Equal(3, phrases.Distinct().Count());
        Assert.All(phrases, phrase => Assert.Matches("^[a-z2-9]{4}(-[a-z2-9]{4}){3}$", phrase));
        Assert.Throws<ArgumentException>(() => PassPhrase.Of("too short"));
        Assert.Equal(PassPhrase.Of("four tall ferries").Cookie, _phrase.Cookie);
    }

    // A thousand connections from one address, and none of them says anything: whoever is there stays, and who comes from elsewhere is let in.
    [Fact(Timeout = 60_000)]
    public async Task A_thousand_connections_keep_nobody_out()
    {
        using var there = new ClientWebSocket();
        there.Options.SetRequestHeader("Origin", $"http://127.0.0.1:{_server.Address.Port}");
        await there.ConnectAsync(new Uri($"ws://127.0.0.1:{_server.Address.Port}/live"), Ended);
        var (flood, cut) = (new List<Socket>(), 0);
        try
        {
            for (var i = 0; i < 1000; i++)
            {
                var socket = new Socket(AddressFamily.InterNetwork, SocketType.Stream, ProtocolType.Tcp);
                socket.Bind(new IPEndPoint(IPAddress.Parse("127.0.0.3"), 0));
                flood.Add(socket);
                try
                {
                    await socket.ConnectAsync(new IPEndPoint(Network, _server.Address.Port), Ended);
                }
                catch (SocketException)
                {
                    cut++;
                }
            }
            using var here = await _browser.GetAsync(new Uri(_server.Address, "/project.json"), Ended);
            Assert.Equal(HttpStatusCode.OK, here.StatusCode);
            var buffer = new byte[16384];
            for (var i = 0; i < 10; i++) Assert.NotEqual(WebSocketMessageType.Close, (await there.ReceiveAsync(buffer, Ended)).MessageType);
            // Most were cut: a read of theirs ends at once.
            Assert.InRange(cut + flood.Count(socket => socket.Connected && socket.Poll(0, SelectMode.SelectRead)), 1000 - ConnectionLimit.MostOfOne, 1000);
        }
        finally
        {
            foreach (var socket in flood) socket.Dispose();
        }
    }

    private async Task<(HttpStatusCode Code, double Wait)> GuessAsync(string phrase)
    {
        using var answer = await _browser.PostAsync(Outside("/enter"), new FormUrlEncodedContent([new("pass", phrase)]), Ended);
        return (answer.StatusCode, answer.Headers.RetryAfter?.Delta?.TotalSeconds ?? 0);
    }

    private async Task<HttpStatusCode> WireAsync(string? cookie)
    {
        using var socket = new ClientWebSocket();
        socket.Options.CollectHttpResponseDetails = true;
        socket.Options.SetRequestHeader("Origin", $"http://127.0.0.2:{_server.Address.Port}");
        if (cookie is not null) socket.Options.SetRequestHeader("Cookie", cookie);
        try
        {
            await socket.ConnectAsync(new Uri($"ws://127.0.0.2:{_server.Address.Port}/live"), Ended);
        }
        catch (WebSocketException)
        {
            // Its status says why.
        }
        return socket.HttpStatusCode;
    }

    private sealed class GateTime : TimeProvider
    {
        internal DateTimeOffset Now { get; set; } = new(2026, 11, 28, 20, 0, 0, TimeSpan.Zero);

        public override DateTimeOffset GetUtcNow() => Now;
    }
}
