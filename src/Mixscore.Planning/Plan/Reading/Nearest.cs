namespace Mixscore.Planning;

/// <summary>Guesses which known word a person meant.</summary>
internal static class Nearest
{
    /// <summary>The known word that is nearest by insertions, deletions, exchanges and swaps of neighbours; <c>null</c>
    /// where none is near.</summary>
    internal static string? To(string word, IEnumerable<string> known)
    {
        string? best = null;
        var least = int.MaxValue;
        foreach (var candidate in known)
        {
            var distance = Distance(Plain(word), Plain(candidate));
            if (distance < least && distance <= Math.Max(1, candidate.Length / 3)) (best, least) = (candidate, distance);
        }
        return best;
    }

    /// <summary>A remedy: the nearest word, or all of them.</summary>
    internal static string Remedy(string word, IReadOnlyCollection<string> known, string otherwise) =>
        To(word, known) is { } near ? $"perhaps you mean \"{near}\"" : $"{otherwise} {string.Join(", ", known)}";

    private static string Plain(string word) =>
        new([.. word.Take(64).Where(c => c is not ('-' or '_' or ' ')).Select(char.ToLowerInvariant)]);

    /// <summary>Optimal string alignment distance.</summary>
    private static int Distance(string a, string b)
    {
        var d = new int[a.Length + 1, b.Length + 1];
        for (var i = 0; i <= a.Length; i++) d[i, 0] = i;
        for (var j = 0; j <= b.Length; j++) d[0, j] = j;
        for (var i = 1; i <= a.Length; i++)
            for (var j = 1; j <= b.Length; j++)
            {
                var exchange = d[i - 1, j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                d[i, j] = Math.Min(exchange, Math.Min(d[i - 1, j], d[i, j - 1]) + 1);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1]) d[i, j] = Math.Min(d[i, j], d[i - 2, j - 2] + 1);
            }
        return d[a.Length, b.Length];
    }
}
