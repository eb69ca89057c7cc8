using System.Net;
using System.Net.NetworkInformation;
using System.Net.Sockets;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.AspNetCore.Server.Kestrel.Core;
using Microsoft.Extensions.DependencyInjection;

namespace Mixscore.Page;

/// <summary>The server: the page, the project, the score, and the wire <c>/live</c>. Bound to 127.0.0.1 alone, unless it is told to
/// listen to a network too; then whoever comes from there must know the pass phrase.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private const long LargestRequest = 64 * 1024;

    /// <summary>What is done thirty times after a tenth of a second in which nothing was new, the runtime compiles once more, and better.</summary>
    private const int FurtherVisits = 4;
    private static readonly TimeSpan Patience = TimeSpan.FromSeconds(5);
    private static readonly TimeSpan BeforeCounting = TimeSpan.FromMilliseconds(250);
    private readonly WebApplication _app;
    private readonly LiveHub _hub;
    private readonly PageContent _content;
    private readonly CancellationTokenSource _ending = new();
    private Task _visits = Task.CompletedTask;

    private PageServer(WebApplication app, LiveHub hub, PageContent content, int port, IReadOnlyList<Uri> network) =>
        (_app, _hub, _content, Address, Network) = (app, hub, content, new Uri($"http://127.0.0.1:{port}/"), network);

    /// <summary>Where the page is for this machine.</summary>
    public Uri Address { get; }

    /// <summary>Where it is for the network, with the pass phrase; empty where it is not.</summary>
    public IReadOnlyList<Uri> Network { get; }

    /// <summary>Whether the client was built; where it was not, the page says what to install.</summary>
    public static bool HasPage => ClientFiles.In(ClientFiles.Folder).AreThere;

    /// <summary>Begins to serve.</summary>
    /// <param name="project">What is shown.</param>
    /// <param name="run">What is played or performed.</param>
    /// <param name="options">How it is served.</param>
    /// <param name="cancellation">Stops the start.</param>
    /// <exception cref="IOException">The port is taken.</exception>
    /// <exception cref="ArgumentException">It is to listen to a network without a pass phrase.</exception>
    public static Task<PageServer> StartAsync(PageProject project, PageRun run, PageOptions options, CancellationToken cancellation) => StartAsync(project, null, run, options, cancellation);

    /// <summary>Begins to serve a project whose plan is edited.</summary>
    /// <inheritdoc cref="StartAsync(PageProject, PageRun, PageOptions, CancellationToken)"/>
    public static Task<PageServer> StartAsync(EditedProject project, PageRun run, PageOptions options, CancellationToken cancellation) => StartAsync(project.Project, project, run, options, cancellation);

    private static async Task<PageServer> StartAsync(PageProject project, EditedProject? edited, PageRun run, PageOptions options, CancellationToken cancellation)
    {
        if (options is { Listen: not null, PassPhrase: null }) throw new ArgumentException("a network needs a pass phrase", nameof(options));
        var orders = new OrderReader([.. project.Plan.Sources.Select(source => source.Name)], [.. project.Plan.Sites.Select(site => site.Name)], project.Timeline);
        var hub = new LiveHub(run, edited, orders, new HandControl(options.Time), Guid.NewGuid().ToString("n"));
        var content = new PageContent(project, edited, ClientFiles.In(ClientFiles.Folder));
        var gate = options.PassPhrase is { } phrase ? new Gate(phrase, options.Time) : null;
        var app = await ServeAsync(context => AnswerAsync(context, gate, content, hub), options, UsualPort.Of(project.Plan.File), cancellation);
        var addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses;
        var bound = new Uri(addresses.First()).Port;
        return new PageServer(app, hub, content, bound, NetworkAddresses(options, bound));
    }

    /// <summary>Gets ready for a browser by asking itself for all that it will ask for; beside whatever else is done, and it never fails.</summary>
    public void BeReady() => _visits = Task.Run(async () =>
    {
        var visit = new FirstVisit(Address);
        await visit.PayAsync(_content.AskedFirst, 1, Patience, _ending.Token);
        await Task.Delay(BeforeCounting, _ending.Token);
        await visit.PayAsync(_content.AskedFirst, FurtherVisits, Patience, _ending.Token);
    }, _ending.Token);

    private static async Task<WebApplication> ServeAsync(RequestDelegate answer, PageOptions options, int usual, CancellationToken cancellation)
    {
        if (options.Port is { } asked) return await ServeAsync(answer, options.Listen, asked, cancellation);
        try
        {
            return await ServeAsync(answer, options.Listen, usual, cancellation);
        }
        catch (IOException)
        {
            return await ServeAsync(answer, options.Listen, 0, cancellation);
        }
    }

    private static async Task<WebApplication> ServeAsync(RequestDelegate answer, IPAddress? listen, int port, CancellationToken cancellation)
    {
        var app = Build(listen, port == 0 && listen is not null ? FreePort(listen) : port);
        app.UseWebSockets(new WebSocketOptions { KeepAliveInterval = TimeSpan.FromSeconds(5), KeepAliveTimeout = TimeSpan.FromSeconds(15) });
        // What answers may take its time: not on the thread that hears all sockets.
        app.Run(context => Task.Run(() => answer(context)));
        try
        {
            await app.StartAsync(cancellation);
            return app;
        }
        catch
        {
            await app.DisposeAsync();
            throw;
        }
    }

    /// <summary>Ends every connection and gives the port back.</summary>
    public async ValueTask DisposeAsync()
    {
        await _ending.CancelAsync();
        await _visits.ContinueWith(_ => { }, CancellationToken.None, TaskContinuationOptions.ExecuteSynchronously, TaskScheduler.Default);
        _ending.Dispose();
        _hub.Close();
        using var patience = new CancellationTokenSource(TimeSpan.FromSeconds(1));
        try
        {
            await _app.StopAsync(patience.Token);
        }
        catch (OperationCanceledException)
        {
            // A browser that does not let go is cut off by the disposal.
        }
        await _app.DisposeAsync();
        _hub.Dispose();
    }

    private static WebApplication Build(IPAddress? listen, int port)
    {
        // Empty: no settings from files or the environment can open another address.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        var limit = new ConnectionLimit();
        void Guard(ListenOptions options) => options.Use(next => connection => limit.PassAsync(connection, next));
        // Whoever sends hands it to the system himself: see OpenWire.
        builder.WebHost.UseKestrelCore().UseSockets(sockets => sockets.UnsafePreferInlineScheduling = true).ConfigureKestrel(kestrel =>
        {
            // An address that stands for all of them has this machine's own in it.
            if (listen is null || !IsAny(listen)) kestrel.Listen(IPAddress.Loopback, port, Guard);
            if (listen is not null) kestrel.Listen(listen, port, Guard);
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestRequest;
            kestrel.Limits.RequestHeadersTimeout = TimeSpan.FromSeconds(5);
            kestrel.Limits.KeepAliveTimeout = TimeSpan.FromSeconds(30);
            kestrel.Limits.MaxConcurrentConnections = 1000;
            kestrel.Limits.MaxConcurrentUpgradedConnections = 100;
        });
        return builder.Build();
    }

    private static bool IsAny(IPAddress address) => address.Equals(IPAddress.Any) || address.Equals(IPAddress.IPv6Any);

    // The page is at one port on every address, and the system can only choose one for one of them.
    private static int FreePort(IPAddress address)
    {
        using var socket = new Socket(address.AddressFamily, SocketType.Stream, ProtocolType.Tcp);
        socket.Bind(new IPEndPoint(address, 0));
        return ((IPEndPoint)socket.LocalEndPoint!).Port;
    }

    private static IReadOnlyList<Uri> NetworkAddresses(PageOptions options, int port)
    {
        if (options is not { Listen: { } listen, PassPhrase: { } phrase }) return [];
        IPAddress[] addresses = IsAny(listen)
            ? [.. NetworkInterface.GetAllNetworkInterfaces().Where(one => one.OperationalStatus == OperationalStatus.Up)
                .SelectMany(one => one.GetIPProperties().UnicastAddresses).Select(one => one.Address)
                .Where(address => address.AddressFamily == AddressFamily.InterNetwork && !IPAddress.IsLoopback(address))]
            : [listen];
        return [.. addresses.Select(address => new UriBuilder("http", $"{address}", port, "enter") { Query = "pass=" + Uri.EscapeDataString(phrase.Text) }.Uri)];
    }

    private static async Task AnswerAsync(HttpContext context, Gate? gate, PageContent content, LiveHub hub)
    {
        var connection = context.Connection;
        var door = new Doorkeeper(connection.LocalIpAddress ?? IPAddress.Loopback, connection.LocalPort);
        // What reached 127.0.0.1 came from this machine.
        var isHere = Equals(connection.LocalIpAddress, IPAddress.Loopback) || Equals(connection.LocalIpAddress?.MapToIPv4(), IPAddress.Loopback);
        var isSocket = context.Request.Path == "/live";
        door.Mark(context.Response);
        if (!door.LetsIn(context.Request, isSocket))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync("This page is for browsers that came here by its own address.\n", context.RequestAborted);
        }
        else if (!isHere && (gate is null || !await gate.LetsPassAsync(context)))
        {
            // It has been answered.
        }
        else if (!isSocket) await content.AnswerAsync(context);
        else if (context.WebSockets.IsWebSocketRequest) await hub.ServeAsync(await context.WebSockets.AcceptWebSocketAsync(), isHere ? "" : $"{connection.RemoteIpAddress}", context.RequestAborted);
        else context.Response.StatusCode = StatusCodes.Status426UpgradeRequired;
    }
}
