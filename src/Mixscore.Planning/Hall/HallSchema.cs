using System.Reflection;

namespace Mixscore.Planning;

/// <summary>The JSON Schema of halls' files, so that editors complete and check them. Source: JSON Schema, draft 2020-12.</summary>
public static class HallSchema
{
    /// <summary>The name of the file that a hall's first line points to.</summary>
    public const string FileName = "hall.schema.json";

    private static readonly Lazy<string> Loaded = new(() =>
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(FileName)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    });

    /// <summary>The schema's text.</summary>
    public static string Text => Loaded.Value;
}
