using PdfSharp.Drawing;
using PdfSharp.Fonts;

namespace Mixscore.Reports;

/// <summary>The one font of the sheet, carried inside the program: no font of the machine is asked for.</summary>
internal sealed class SheetFonts : IFontResolver
{
    internal const string Family = "DejaVu Sans Condensed";

    private static readonly Lock Gate = new();
    private static readonly Dictionary<(double Size, bool IsBold), XFont> Made = [];

    public FontResolverInfo? ResolveTypeface(string familyName, bool isBold, bool isItalic) =>
        familyName == Family ? new FontResolverInfo(isBold ? "DejaVuSansCondensed-Bold" : "DejaVuSansCondensed") : null;

    public byte[] GetFont(string faceName)
    {
        using var stream = typeof(SheetFonts).Assembly.GetManifestResourceStream($"Mixscore.Reports.Sheet.{faceName}.ttf")
            ?? throw new InvalidOperationException("the program was built without " + faceName);
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        return bytes;
    }

    /// <summary>The font in a size, in points.</summary>
    internal static XFont Of(double size, bool isBold)
    {
        lock (Gate)
        {
            GlobalFontSettings.FontResolver ??= new SheetFonts();
            if (!Made.TryGetValue((size, isBold), out var font))
                Made[(size, isBold)] = font = new XFont(Family, size, isBold ? XFontStyleEx.Bold : XFontStyleEx.Regular, XPdfFontOptions.UnicodeDefault);
            return font;
        }
    }
}
