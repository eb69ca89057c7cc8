using Microsoft.AspNetCore.Http;

namespace Mixscore.Page;

/// <summary>What is served besides the wire: the client's files, the project and the score. Nothing is named by the browser but from these lists.</summary>
/// <param name="project">The project as it was opened.</param>
/// <param name="edited">The same while it is edited; <c>null</c> for a performance.</param>
/// <param name="files">The client.</param>
internal sealed class PageContent(PageProject project, EditedProject? edited, ClientFiles files)
{
    private const string Left = """
        <!doctype html><html lang="en"><meta charset="utf-8"><title>Mixscore</title>
        <h1>The page was left out of this build</h1>
        <p>It is built by Node.js, which was not there. Install Node.js 20 or later (on Debian: <code>apt install nodejs npm</code>),
        then build Mixscore again: <code>dotnet build</code>.</p></html>
        """;

    // Made while the browser opens, and anew when the plan has changed.
    private (PageProject Of, Task<byte[]> Json) _project = (edited?.Project ?? project, Task.Run(() => ProjectJson.Write(edited?.Project ?? project)));
    private readonly Lock _gate = new();
    private readonly NightFiles _nights = new(Path.Combine(project.Plan.Folder, "log"));

    private Task<byte[]> ProjectNow()
    {
        lock (_gate)
        {
            if (edited?.Project is { } now && now != _project.Of) _project = (now, Task.Run(() => ProjectJson.Write(now)));
            return _project.Json;
        }
    }

    /// <summary>What a browser asks for when it comes, and the client's other files.</summary>
    internal IReadOnlyList<string> AskedFirst => ["/", "/project.json", .. ScoreText.IsXml(project.ScorePath) ? ["/score.xml"] : Array.Empty<string>(), .. files.Paths];

    internal async Task AnswerAsync(HttpContext context)
    {
        var (request, response) = (context.Request, context.Response);
        if (!HttpMethods.IsGet(request.Method) && !HttpMethods.IsHead(request.Method))
        {
            response.StatusCode = StatusCodes.Status405MethodNotAllowed;
            return;
        }
        switch (request.Path.Value)
        {
            case "/project.json":
                await SendAsync(context, "application/json", await ProjectNow());
                break;
            case "/logs.json":
                await SendAsync(context, "application/json", _nights.List());
                break;
            case "/log.json" when request.Query["name"] is [{ } name] && _nights.Read(name, edited?.Project ?? project) is { } night:
                await SendAsync(context, "application/json", night);
                break;
            case "/proposals.json" when edited is not null && request.Query["name"] is [{ } log]:
                if (await Task.Run(() => edited.Fold(log)) is { } found) await SendAsync(context, "application/json", found.Write());
                else response.StatusCode = StatusCodes.Status404NotFound;
                break;
            case "/plan.yaml" when edited is not null:
                response.Headers.ContentDisposition = "attachment; filename=\"plan.mix.yaml\"";
                await SendAsync(context, "application/yaml; charset=utf-8", System.Text.Encoding.UTF8.GetBytes(edited.Text));
                break;
            case "/score.xml" when ScoreText.IsXml(project.ScorePath):
                await SendAsync(context, "application/xml", ScoreText.Read(project.ScorePath));
                break;
            case "/" or "/call" when files.Find("/index.html") is { } index:
                await SendAsync(context, ClientFiles.TypeOf(index), files.Read(index));
                break;
            case "/" or "/call":
                await SendAsync(context, "text/html; charset=utf-8", System.Text.Encoding.UTF8.GetBytes(Left));
                break;
            case { } path when files.Find(path) is { } file:
                // A built file's name holds its content's hash.
                if (path.StartsWith("/assets/", StringComparison.Ordinal)) response.Headers.CacheControl = "max-age=31536000, immutable";
                await SendAsync(context, ClientFiles.TypeOf(file), files.Read(file));
                break;
            default:
                response.StatusCode = StatusCodes.Status404NotFound;
                break;
        }
    }

    private static async Task SendAsync(HttpContext context, string type, byte[] bytes)
    {
        context.Response.ContentType = type;
        context.Response.ContentLength = bytes.Length;
        if (HttpMethods.IsGet(context.Request.Method)) await context.Response.Body.WriteAsync(bytes, context.RequestAborted);
    }
}
