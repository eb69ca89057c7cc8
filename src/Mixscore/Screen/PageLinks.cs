using Mixscore.Page;
using QRCoder;

namespace Mixscore.Screen;

/// <summary>Where the page is, in words, and for the network as a code that a tablet's camera reads.</summary>
internal static class PageLinks
{
    /// <summary>The lines to print.</summary>
    internal static IEnumerable<string> Of(PageServer server)
    {
        yield return $"page: {server.Address}";
        foreach (var link in server.Network) yield return $"page for the network, with its pass phrase: {link.AbsoluteUri}";
        if (server.Network.Count > 0) yield return Code(server.Network[0].AbsoluteUri);
        if (!PageServer.HasPage) yield return "The page was left out of this build: install Node.js 20 or later and build Mixscore again.";
    }

    /// <summary>Source: ISO/IEC 18004; level M mends 15 % of the code.</summary>
    private static string Code(string text)
    {
        using var data = QRCodeGenerator.GenerateQrCode(text, QRCodeGenerator.ECCLevel.M);
        using var code = new AsciiQRCode(data);
        return code.GetGraphicSmall();
    }
}
