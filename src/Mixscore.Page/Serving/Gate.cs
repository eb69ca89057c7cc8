using System.Globalization;
using System.Net;
using Microsoft.AspNetCore.Http;

namespace Mixscore.Page;

/// <summary>The gate to the network: whoever is not on this machine says the pass phrase once, by the printed link or by hand.</summary>
/// <param name="phrase">The phrase.</param>
/// <param name="time">The clock by which guesses are slowed.</param>
internal sealed class Gate(PassPhrase phrase, TimeProvider time)
{
    private const string Path = "/enter";
    private readonly GuessLimit _limit = new(time);

    /// <summary>Whether a request may pass; where it may not, it has been answered.</summary>
    internal async Task<bool> LetsPassAsync(HttpContext context)
    {
        var request = context.Request;
        var address = context.Connection.RemoteIpAddress ?? IPAddress.None;
        var cookie = $"mixscore-{context.Connection.LocalPort}";
        if (request.Path == Path && await GuessAsync(request) is { } guess) await EnterAsync(context, address, guess, cookie);
        else if (phrase.IsCookie(request.Cookies[cookie])) return true;
        // The script and style of the page are no secret, but the form needs none of them.
        else await AskAsync(context, StatusCodes.Status401Unauthorized, "");
        return false;
    }

    private static async Task<string?> GuessAsync(HttpRequest request)
    {
        if (HttpMethods.IsGet(request.Method)) return request.Query["pass"] is [{ } asked] ? asked : null;
        if (!HttpMethods.IsPost(request.Method) || !request.HasFormContentType) return null;
        try
        {
            return (await request.ReadFormAsync())["pass"] is [{ } typed] ? typed : null;
        }
        catch (Exception e) when (e is BadHttpRequestException or InvalidDataException or IOException)
        {
            return null;
        }
    }

    private async Task EnterAsync(HttpContext context, IPAddress address, string guess, string cookie)
    {
        if (_limit.WaitOf(address) is var wait && wait > TimeSpan.Zero)
        {
            context.Response.Headers.RetryAfter = Math.Ceiling(wait.TotalSeconds).ToString(CultureInfo.InvariantCulture);
            await AskAsync(context, StatusCodes.Status429TooManyRequests, $"<p role=\"alert\">That was wrong. Wait {Math.Ceiling(wait.TotalSeconds):0} seconds and try again.</p>");
            return;
        }
        if (!phrase.Is(guess))
        {
            _limit.Wrong(address);
            await AskAsync(context, StatusCodes.Status401Unauthorized, "<p role=\"alert\">That is not the pass phrase.</p>");
            return;
        }
        _limit.Right(address);
        context.Response.Cookies.Append(cookie, phrase.Cookie, new CookieOptions { HttpOnly = true, SameSite = SameSiteMode.Lax, Path = "/" });
        context.Response.Redirect("/");
        context.Response.StatusCode = StatusCodes.Status303SeeOther;
    }

    private static async Task AskAsync(HttpContext context, int status, string why)
    {
        context.Response.StatusCode = status;
        context.Response.ContentType = "text/html; charset=utf-8";
        await context.Response.WriteAsync($"""
            <!doctype html><html lang="en"><meta charset="utf-8"><meta name="viewport" content="width=device-width, initial-scale=1"><meta name="color-scheme" content="dark light"><title>Mixscore</title>
            <main><h1>Mixscore</h1>{why}
            <p>This page is kept for those who know its pass phrase. It is printed where Mixscore was started.</p>
            <form method="post" action="{Path}"><label>Pass phrase <input name="pass" type="password" autocomplete="current-password" autofocus></label> <button>Enter</button></form></main></html>

            """, context.RequestAborted);
    }
}
