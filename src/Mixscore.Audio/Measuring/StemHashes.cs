using System.Collections.Concurrent;
using System.IO.Hashing;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// What the bytes of stems hash to, each file read once. Hashing needs the plan alone, so it can go on while the score is read.
/// A set is for one look at the stems: a file that is changed later would still be taken for what it was.
/// </summary>
public sealed class StemHashes
{
    private readonly ConcurrentDictionary<string, Lazy<string>> _hashes = new(StringComparer.Ordinal);

    /// <summary>Begins to hash the stems of a plan, on all cores but one.</summary>
    /// <param name="plan">Names the stems; one that cannot be read is told when it is asked for.</param>
    public static StemHashes Begin(MixPlan plan)
    {
        var hashes = new StemHashes();
        string[] paths = [.. plan.Sources.Select(source => Path.Combine(plan.Folder, source.Stem)).Distinct(StringComparer.Ordinal)];
        _ = Task.Run(() => Parallel.ForEach(paths, new ParallelOptions { MaxDegreeOfParallelism = Math.Max(1, Environment.ProcessorCount - 1) }, path =>
        {
            try
            {
                _ = hashes.Of(path);
            }
            catch (UnavailableException)
            {
                // Who asks for it is told.
            }
        }));
        return hashes;
    }

    /// <summary>The hash of a file's bytes, as 32 hexadecimal digits; waits for it where it is being made.</summary>
    /// <exception cref="UnavailableException">MX201: it cannot be read.</exception>
    internal string Of(string path) => _hashes.GetOrAdd(path, static path => new Lazy<string>(() => Hash(path))).Value;

    private static string Hash(string path)
    {
        try
        {
            using var stream = new FileStream(path, FileMode.Open, FileAccess.Read, FileShare.Read, bufferSize: 0, FileOptions.SequentialScan);
            var hash = new XxHash128();
            var block = new byte[1 << 20];
            while (stream.Read(block) is > 0 and var count) hash.Append(block.AsSpan(0, count));
            return Convert.ToHexStringLower(hash.GetCurrentHash());
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new UnavailableException([new Fault("MX201", new Place(path), $"cannot be read: {e.Message}", "see that it is there and that you may read it")], e);
        }
    }
}
