using System.Text.RegularExpressions;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary><c>tempo:</c>, such as <c>D: 72 &gt; 60 by end</c>, <c>12..16: 90 &gt; 72</c>, <c>C: 72</c>, <c>40:4: hold 3.5 s</c>.</summary>
internal static partial class TempoSection
{
    private const int LongestTempo = 1000;
    private const string Forms = "write a tempo (72), a change (72 > 60 by end) or a hold (hold 3.5 s), in quarters a minute";

    internal static IReadOnlyList<TempoEntry> Read(YamlPair? pair, FaultList faults)
    {
        if (pair is null || !Section.IsMap("the list of tempi", pair.Value, faults,
            "write a position, a colon and a tempo on each line, such as \"C: 72\"", out var map))
            return [];
        var entries = new List<TempoEntry>();
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            var problem = RangeText.Read(key.Value, out var from, out var to);
            if (problem is not null) faults.Add(problem.Code, key.Place, problem.Found, problem.Remedy);
            if (value is not YamlText text)
            {
                faults.Add(PlanFault.WrongKind, value.Place, $"{RangeText.Spoken(key.Value)} holds more than a tempo", Forms);
                continue;
            }
            var place = text.Value.Length == 0 ? key.Place : text.Place;
            var wrong = ReadOne(text.Value, from, to, key.Place, out var entry);
            if (wrong is not null) faults.Add(wrong.Code, place, $"{RangeText.Spoken(key.Value)}: {wrong.Found}", wrong.Remedy);
            else if (problem is null) entries.Add(entry!);
        }
        return entries;
    }

    private static Problem? ReadOne(string text, Position from, Position? to, Place place, out TempoEntry? entry)
    {
        entry = null;
        if (HoldForm().Match(text) is { Success: true } hold)
        {
            if (to is not null)
                return new Problem(PlanFault.NotATempo, "a hold stands on a range",
                    "put it on the one beat that is held, such as \"40:4: hold 3.5 s\"");
            if (Measure.Hold.Read(hold.Groups["time"].Value, out var seconds) is { } wrong) return wrong;
            entry = new TempoEntry(from, null, null, null, new Seconds(seconds), place);
            return null;
        }
        // Longer is no tempo, and would keep the form trying.
        var form = text.Length <= LongestTempo ? TempoForm().Match(text) : Match.Empty;
        if (!form.Success)
            return new Problem(PlanFault.NotATempo, text.Length == 0 ? "a tempo is missing" : $"\"{text}\" is not a tempo", Forms);
        if (ReadTempo(form.Groups["start"].Value, out var start) is { } startProblem) return startProblem;
        double? end = null;
        if (form.Groups["end"].Success)
        {
            if (ReadTempo(form.Groups["end"].Value, out var reached) is { } endProblem) return endProblem;
            end = reached;
        }
        if (form.Groups["by"].Success)
        {
            if (to is not null)
                return new Problem(PlanFault.NotATempo, $"\"{text}\" says where it ends, and so does its range", "write one of the two");
            if (end is null)
                return new Problem(PlanFault.NotATempo, $"\"{text}\" says where a change ends but not to what tempo",
                    "write both tempi, such as \"72 > 60 by end\"");
            if (!Position.TryParse(form.Groups["by"].Value, out to, out var why))
                return new Problem(PlanFault.NotAPosition, why!, "write where the change ends, such as \"72 > 60 by end\"");
        }
        if (end is not null && to is null)
            return new Problem(PlanFault.NotATempo, $"\"{text}\" does not say where the change ends",
                "write \"by\" and a position, such as \"72 > 60 by end\"");
        entry = new TempoEntry(from, to, start, to is null ? null : end ?? start, null, place);
        return null;
    }

    private static Problem? ReadTempo(string text, out double tempo)
    {
        var problem = Measure.Tempo.Read(text, out tempo);
        return problem is { Code: PlanFault.NotAQuantity } ? problem with { Code = PlanFault.NotATempo, Remedy = Forms } : problem;
    }

    [GeneratedRegex(@"^\s*hold(?:\s+(?<time>.*))?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex HoldForm();

    [GeneratedRegex(@"^\s*(?<start>[^>\s]+)\s*(?:>\s*(?<end>[^>\s]+)\s*)?(?:\s+by\s+(?<by>\S.*))?$", RegexOptions.IgnoreCase | RegexOptions.CultureInvariant)]
    private static partial Regex TempoForm();
}
