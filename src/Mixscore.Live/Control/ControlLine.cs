using System.Globalization;
using Mixscore.Protocols.Osc;

namespace Mixscore.Live;

/// <summary>Control by a line of words, the same as by OSC: <c>take north.voice -6</c>, <c>jump C:2</c>, <c>hold</c>.</summary>
public static class ControlLine
{
    /// <summary>The words, for help.</summary>
    public const string Words = "start [POSITION], stop, stay [still], release, jump POSITION, take SOURCE [DB], move SOURCE DB, back SOURCE [BEATS], offset SOURCE DB, hold, allback [BEATS], arm, disarm, takeover, mark TEXT, link SOURCE 0|1";

    /// <summary>Posts what a line asks for.</summary>
    /// <param name="line">The line.</param>
    /// <param name="run">The run.</param>
    /// <param name="now">The run's time.</param>
    /// <returns>What is wrong with it, in words; <c>null</c> when nothing is.</returns>
    public static string? Obey(string line, LiveRun run, TimeSpan now)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        if (words.Length == 0) return null;
        var arguments = words[0] == "mark" && words.Length > 1 ? [OscArgument.Of(string.Join(' ', words[1..]))] : words[1..].Select((word, i) => Argument(words[0], word, i)).ToArray();
        var events = new List<RunEvent>();
        if (ControlMessage.Read(ControlMessage.Root + words[0], arguments, run.Plan, now, events) is { } problem)
            return problem.EndsWith("is not known", StringComparison.Ordinal) ? $"\"{words[0]}\" is not known; write {Words}" : problem;
        foreach (var posted in events)
            if (!run.Post(posted)) return "the run has no room for more";
        return null;
    }

    // A bar is a position although it looks like a number; everything after a source is a number, and off may stand for one.
    private static OscArgument Argument(string verb, string word, int place)
    {
        if (place == 0 && verb is not "allback") return OscArgument.Of(word);
        if (word == "off") return OscArgument.Of(double.NegativeInfinity);
        return double.TryParse(word.Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out var number) ? OscArgument.Of(number) : OscArgument.Of(word);
    }
}
