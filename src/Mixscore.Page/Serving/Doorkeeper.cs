using System.Net;
using Microsoft.AspNetCore.Http;

namespace Mixscore.Page;

/// <summary>
/// Who may ask: a browser that reached this server by its own address, from a page of this server. Another site's page that
/// the engineer has open, or a name that was made to point here, is turned away.
/// </summary>
internal sealed class Doorkeeper
{
    private readonly string[] _hosts;

    /// <param name="local">The address that was reached.</param>
    /// <param name="port">The port that was reached.</param>
    internal Doorkeeper(IPAddress local, int port)
    {
        if (local.IsIPv4MappedToIPv6) local = local.MapToIPv4();
        var host = local.AddressFamily == System.Net.Sockets.AddressFamily.InterNetworkV6 ? $"[{local}]" : $"{local}";
        string[] names = IPAddress.IsLoopback(local) ? [host, "localhost"] : [host];
        _hosts = [.. names.Select(name => $"{name}:{port}"), .. port == 80 ? names : []];
    }

    /// <summary>Whether a request may come in. A WebSocket must say which page it is from; other requests may leave that out.</summary>
    internal bool LetsIn(HttpRequest request, bool isSocket)
    {
        if (!_hosts.Contains(request.Host.Value, StringComparer.OrdinalIgnoreCase)) return false;
        var origin = request.Headers.Origin;
        if (origin.Count == 0) return !isSocket;
        return origin.Count == 1 && _hosts.Any(host => string.Equals(origin[0], "http://" + host, StringComparison.OrdinalIgnoreCase));
    }

    /// <summary>What the browser may do with a page of ours: run and show only what comes from here, and be framed by nobody.</summary>
    internal void Mark(HttpResponse response)
    {
        var sockets = string.Join(' ', _hosts.Select(host => "ws://" + host));
        var headers = response.Headers;
        // The engraver is WebAssembly; engraved systems are pictures made in the browser. The one form is that for the pass phrase.
        headers.ContentSecurityPolicy = "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
            + $"worker-src 'self'; connect-src 'self' {sockets}; manifest-src 'self'; base-uri 'none'; form-action 'self'; frame-ancestors 'none'";
        headers.XContentTypeOptions = "nosniff";
        headers["Referrer-Policy"] = "no-referrer";
        headers["Cross-Origin-Opener-Policy"] = "same-origin";
        headers["Cross-Origin-Resource-Policy"] = "same-origin";
        headers.CacheControl = "no-cache";
    }
}
