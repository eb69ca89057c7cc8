using System.Text.Json;

namespace Mixscore.Live;

/// <summary>The names of the kinds in a log's lines.</summary>
internal static class LogNames
{
    private static readonly Dictionary<LogKind, string> ByKind = Enum.GetValues<LogKind>().ToDictionary(kind => kind, kind => JsonNamingPolicy.KebabCaseLower.ConvertName($"{kind}"));
    private static readonly Dictionary<string, LogKind> ByName = ByKind.ToDictionary(pair => pair.Value, pair => pair.Key, StringComparer.Ordinal);

    internal static string Of(LogKind kind) => ByKind[kind];

    internal static LogKind? Find(string name) => ByName.TryGetValue(name, out var kind) ? kind : null;
}
