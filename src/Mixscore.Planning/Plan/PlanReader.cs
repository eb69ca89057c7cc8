using System.Text;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Reads plan files (<c>*.mix.yaml</c>) and checks them against themselves: all that can be said without the score.</summary>
public static class PlanReader
{
    private static readonly UTF8Encoding Strict = new(false, throwOnInvalidBytes: true);

    /// <summary>Reads a plan file.</summary>
    /// <param name="path">The file.</param>
    /// <exception cref="InputException">Something is wrong with it; every fault is given, in the order of the lines.</exception>
    /// <exception cref="IOException">The file cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">The file may not be read.</exception>
    public static MixPlan Read(string path) => Parse(ReadText(path), path);

    /// <summary>Reads the text of a plan.</summary>
    /// <param name="text">The text.</param>
    /// <param name="path">The file that it is from, or will go to; faults name it as given.</param>
    /// <exception cref="InputException">Something is wrong with it; every fault is given, in the order of the lines.</exception>
    public static MixPlan Parse(string text, string path)
    {
        ArgumentNullException.ThrowIfNull(text);
        ArgumentException.ThrowIfNullOrWhiteSpace(path);
        var faults = new FaultList();
        var root = YamlTree.Read(text, path, faults);
        var plan = root is null ? null : new PlanReading(path, faults).Read(root);
        faults.ThrowIfAny();
        return plan ?? throw new InvalidOperationException("a plan that could not be read has a fault");
    }

    /// <summary>The text of a plan file.</summary>
    /// <exception cref="InputException">It is too long, or not UTF-8.</exception>
    internal static string ReadText(string path)
    {
        if (new FileInfo(path) is { Exists: true, Length: > YamlTree.LongestText } file)
            throw new InputException(new Fault(PlanFault.TooMuch, new Place(path), $"the file has {file.Length} bytes",
                $"a plan has at most {YamlTree.LongestText}"));
        try
        {
            return Strict.GetString(File.ReadAllBytes(path));
        }
        catch (DecoderFallbackException)
        {
            throw new InputException(new Fault(PlanFault.NotYaml, new Place(path), "the file is not UTF-8 text", "save it as UTF-8"));
        }
    }
}
