using System.Globalization;
using Mixscore.Planning;

namespace Mixscore.Tests;

/// <summary>Logs of the small project, of the whole piece with a position each second and lines between; the piece begins ten seconds into the log. It must have been fitted.</summary>
internal sealed class SmallNight(SmallProject project)
{
    internal static (double, string) Take(double seconds, string source, double db) =>
        (seconds, string.Create(CultureInfo.InvariantCulture, $"\"kind\":\"take\",\"source\":\"{source}\",\"db\":{db}"));

    internal static (double, string) Back(double seconds, string source) => (seconds, $"\"kind\":\"back\",\"source\":\"{source}\",\"db\":0");

    internal static (double, string) Offset(double seconds, string source, double db) =>
        (seconds, string.Create(CultureInfo.InvariantCulture, $"\"kind\":\"offset\",\"source\":\"{source}\",\"db\":{db}"));

    internal double GainAt(string source, double seconds) =>
        RidesFile.Read(project.PathOf("out", "rides.json")).Single(ride => ride.Source == source).Ride.At(seconds * 2)!.Value.Value;

    internal string Write(string name, params (double Seconds, string Line)[] lines) => Write(name, false, lines);

    internal string Write(string name, bool isRehearsal, params (double Seconds, string Line)[] lines)
    {
        var all = Enumerable.Range(0, 25).Select(second => ((double)second, second == 0 ? "\"kind\":\"start\",\"value\":0" : "\"kind\":\"position\"")).Concat(lines).OrderBy(line => line.Item1);
        var head = "{\"t\":0,\"at\":null,\"kind\":\"begin\",\"date\":\"2026-11-25T20:00:00+01:00\",\"plan\":\"small.mix.yaml\",\"planKey\":\"k\",\"clock\":\"click\",\"desks\":[],\"boot\":\"b\",\"uptime\":1,\"rehearsal\":" + (isRehearsal ? "true" : "false") + $",\"rides\":[{string.Join(",", RidesFile.Read(project.PathOf("out", "rides.json")).Select(Ride))}]}}";
        var path = project.PathOf(name + ".log.jsonl");
        File.WriteAllLines(path, [head, .. all.Select(line => string.Create(CultureInfo.InvariantCulture, $"{{\"t\":{line.Item1 + 10},\"at\":\"{At(line.Item1)}\",{line.Item2},\"seconds\":{line.Item1}}}")),
            "{\"t\":40,\"at\":\"end\",\"kind\":\"end\",\"seconds\":24}"]);
        return path;
    }

    private static string Ride(FittedSource source) => $"{{\"source\":\"{source.Source}\",\"vertices\":[" + string.Join(",", source.Ride.Vertices.Select(vertex =>
        string.Create(CultureInfo.InvariantCulture, $"[\"{At(vertex.At.ToDouble() / 2)}\",{vertex.Gain?.Value}]"))) + "]}";

    private static string At(double seconds) => seconds >= 24 ? "end" : string.Create(CultureInfo.InvariantCulture, $"{(int)(seconds / 2) + 1}:{(int)(seconds % 2 * 2) + 1}");
}
