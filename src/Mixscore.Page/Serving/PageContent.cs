using Microsoft.AspNetCore.Http;

namespace Mixscore.Page;

/// <summary>What is served besides the wire: the client's files, the project and the score. Nothing is named by the browser but from these lists.</summary>
internal sealed class PageContent(PageProject project, bool isPerformance, ClientFiles files)
{
    private const string Left = """
        <!doctype html><html lang="en"><meta charset="utf-8"><title>Mixscore</title>
        <h1>The page was left out of this build</h1>
        <p>It is built by Node.js, which was not there. Install Node.js 20 or later (on Debian: <code>apt install nodejs npm</code>),
        then build Mixscore again: <code>dotnet build</code>.</p></html>
        """;

    // Made while the browser opens.
    private readonly Task<byte[]> _project = Task.Run(() => ProjectJson.Write(project, isPerformance));

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
                await SendAsync(context, "application/json", await _project);
                break;
            case "/score.xml" when ScoreText.IsXml(project.ScorePath):
                await SendAsync(context, "application/xml", ScoreText.Read(project.ScorePath));
                break;
            case "/" or "/call" when files.Find("/index.html") is { } index:
                await SendFileAsync(context, index);
                break;
            case "/" or "/call":
                await SendAsync(context, "text/html; charset=utf-8", System.Text.Encoding.UTF8.GetBytes(Left));
                break;
            case { } path when files.Find(path) is { } file:
                // A built file's name holds its content's hash.
                if (path.StartsWith("/assets/", StringComparison.Ordinal)) response.Headers.CacheControl = "max-age=31536000, immutable";
                await SendFileAsync(context, file);
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

    private static async Task SendFileAsync(HttpContext context, string file)
    {
        context.Response.ContentType = ClientFiles.TypeOf(file);
        context.Response.ContentLength = new FileInfo(file).Length;
        if (HttpMethods.IsGet(context.Request.Method)) await context.Response.SendFileAsync(file, context.RequestAborted);
    }
}
