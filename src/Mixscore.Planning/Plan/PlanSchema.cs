using System.Reflection;

namespace Mixscore.Planning;

/// <summary>The JSON Schema of plan files, so that editors complete and check them. Source: JSON Schema, draft 2020-12.</summary>
public static class PlanSchema
{
    /// <summary>The name of the file that a plan's first line points to.</summary>
    public const string FileName = "mix.schema.json";

    private static readonly Lazy<string> Loaded = new(() =>
    {
        using var stream = Assembly.GetExecutingAssembly().GetManifestResourceStream(FileName)!;
        using var reader = new StreamReader(stream);
        return reader.ReadToEnd();
    });

    /// <summary>The schema's text.</summary>
    public static string Text => Loaded.Value;
}
