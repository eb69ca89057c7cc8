using System.Net;
using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Hosting;
using Microsoft.AspNetCore.Hosting.Server;
using Microsoft.AspNetCore.Hosting.Server.Features;
using Microsoft.AspNetCore.Http;
using Microsoft.Extensions.DependencyInjection;

namespace Mixscore.Page;

/// <summary>The local server: the page, the project, the score, and the wire <c>/live</c>. Bound to 127.0.0.1 alone.</summary>
public sealed class PageServer : IAsyncDisposable
{
    private const long LargestRequest = 64 * 1024;
    private readonly WebApplication _app;
    private readonly LiveHub _hub;

    private PageServer(WebApplication app, LiveHub hub, int port) => (_app, _hub, Address) = (app, hub, new Uri($"http://127.0.0.1:{port}/"));

    /// <summary>Where the page is.</summary>
    public Uri Address { get; }

    /// <summary>Whether the client was built; where it was not, the page says what to install.</summary>
    public static bool HasPage => ClientFiles.In(ClientFiles.Folder).AreThere;

    /// <summary>Begins to serve.</summary>
    /// <param name="project">What is shown.</param>
    /// <param name="rehearsal">What is played.</param>
    /// <param name="port">0 for any that is free.</param>
    /// <param name="cancellation">Stops the start.</param>
    /// <exception cref="IOException">The port is taken.</exception>
    public static async Task<PageServer> StartAsync(PageProject project, Rehearsal rehearsal, int port, CancellationToken cancellation)
    {
        // Empty: no settings from files or the environment can open another address.
        var builder = WebApplication.CreateEmptyBuilder(new WebApplicationOptions());
        builder.WebHost.UseKestrelCore().ConfigureKestrel(kestrel =>
        {
            kestrel.Listen(IPAddress.Loopback, port);
            kestrel.AddServerHeader = false;
            kestrel.Limits.MaxRequestBodySize = LargestRequest;
            kestrel.Limits.MaxConcurrentConnections = 200;
            kestrel.Limits.MaxConcurrentUpgradedConnections = 64;
        });
        var app = builder.Build();
        var hub = new LiveHub(rehearsal, [.. project.Plan.Sources.Select(source => source.Name)], project.Timeline);
        var content = new PageContent(project, ClientFiles.In(ClientFiles.Folder));
        app.UseWebSockets(new WebSocketOptions { KeepAliveInterval = TimeSpan.FromSeconds(5), KeepAliveTimeout = TimeSpan.FromSeconds(15) });
        app.Run(context => AnswerAsync(context, content, hub));
        try
        {
            await app.StartAsync(cancellation);
            var addresses = app.Services.GetRequiredService<IServer>().Features.Get<IServerAddressesFeature>()!.Addresses;
            return new PageServer(app, hub, new Uri(addresses.First()).Port);
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

    private static async Task AnswerAsync(HttpContext context, PageContent content, LiveHub hub)
    {
        var door = new Doorkeeper(context.Connection.LocalPort);
        var isSocket = context.Request.Path == "/live";
        door.Mark(context.Response);
        if (!door.LetsIn(context.Request, isSocket))
        {
            context.Response.StatusCode = StatusCodes.Status403Forbidden;
            await context.Response.WriteAsync("This page is for the browser of this machine.\n", context.RequestAborted);
        }
        else if (!isSocket) await content.AnswerAsync(context);
        else if (context.WebSockets.IsWebSocketRequest) await hub.ServeAsync(await context.WebSockets.AcceptWebSocketAsync(), context.RequestAborted);
        else context.Response.StatusCode = StatusCodes.Status426UpgradeRequired;
    }
}
