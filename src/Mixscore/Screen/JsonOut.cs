using System.Text.Encodings.Web;
using System.Text.Json;

namespace Mixscore.Screen;

/// <summary>What <c>--json</c> prints: indented, readable text, keys as the contracts name them.</summary>
internal static class JsonOut
{
    private static readonly JsonSerializerOptions Indented = new() { WriteIndented = true, Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    internal static void Write<T>(Terminal terminal, T value) => terminal.Plain.WriteLine(Text(value));

    internal static string Text<T>(T value) => JsonSerializer.Serialize(value, Indented);

    /// <summary>Figures at a precision that means something, so that two machines print the same.</summary>
    internal static double? Rounded(double? value, int decimals = 4) => value is { } v ? Math.Round(v, decimals) : null;
}
