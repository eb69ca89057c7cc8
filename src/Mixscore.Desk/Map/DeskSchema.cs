using System.Text;

namespace Mixscore.Desk;

/// <summary>The JSON Schema of desk maps, for editors that complete and check them.</summary>
public static class DeskSchema
{
    /// <summary>The name of the file that desk maps name.</summary>
    public const string FileName = "desk.schema.json";

    /// <summary>The schema (draft 2020-12).</summary>
    public static string Text { get; } = Load();

    private static string Load()
    {
        using var stream = typeof(DeskSchema).Assembly.GetManifestResourceStream(FileName)
            ?? throw new InvalidOperationException($"{FileName} is not built in");
        using var reader = new StreamReader(stream, Encoding.UTF8);
        return reader.ReadToEnd();
    }
}
