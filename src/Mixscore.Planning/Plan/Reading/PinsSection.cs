using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary><c>pins:</c>: under each source, positions or ranges and the fader's gain there: <c>17: -4</c>, <c>20..24: -6 &gt; -2</c>.</summary>
internal static class PinsSection
{
    private const string Forms = "write the fader's gain in dB, such as \"17: -4\", or a move over a range, such as \"20..24: -6 > -2\"";

    internal static IReadOnlyList<SourcePins> Read(YamlPair? pair, IReadOnlyList<string> names, FaultList faults)
    {
        if (pair is null || !Section.IsMap("the pins", pair.Value, faults, "write a source's name and a colon, and its pins under it", out var map))
            return [];
        var read = new List<SourcePins>();
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            if (!names.Contains(key.Value))
                faults.Add(PlanFault.UnknownSource, key.Place, $"there is no source \"{key.Value}\"",
                    names.Count == 0 ? "add it under sources" : Nearest.Remedy(key.Value, names, "the sources are"));
            if (!Section.IsMap("a list of pins", value, faults, Forms, out var pins)) continue;
            read.Add(new SourcePins(key.Value, [.. (pins?.Pairs ?? []).Select(one => ReadPin(key.Value, one, faults)).OfType<WrittenPin>()]));
        }
        return read;
    }

    private static WrittenPin? ReadPin(string source, YamlPair pair, FaultList faults)
    {
        var spoken = $"{source}, pin at {RangeText.Spoken(pair.Key.Value)}";
        var problem = RangeText.Read(pair.Key.Value, out var from, out var to);
        if (problem is not null) faults.Add(problem.Code, pair.Key.Place, $"{source}: {problem.Found}", problem.Remedy);
        if (pair.Value is not YamlText text)
        {
            faults.Add(PlanFault.WrongKind, pair.Value.Place, $"{spoken}: more than one gain stands here", Forms);
            return null;
        }
        var place = pair.IsEmpty ? pair.Key.Place : text.Place;
        var ends = text.Value.Split('>');
        var (start, end) = (0.0, 0.0);
        var wrong = ends.Length > 2 ? new Problem(PlanFault.NotAQuantity, $"\"{text.Value}\" is not a gain", Forms) : ReadGain(ends[0], out start) ?? ReadGain(ends[^1], out end);
        if (wrong is not null)
        {
            faults.Add(wrong.Code, place, $"{spoken}: {wrong.Found}", wrong.Remedy);
            return null;
        }
        if (ends.Length == 2 && to is null && problem is null)
        {
            faults.Add(PlanFault.MoveWithoutRange, place, $"{spoken}: a move needs a range to move over", $"write where it ends before the colon, such as \"{pair.Key.Value}..end\"");
            return null;
        }
        return problem is null ? new WrittenPin(from, to, Decibels.Of(start), Decibels.Of(end), pair.Key.Place) : null;
    }

    private static Problem? ReadGain(string text, out double gain)
    {
        gain = 0;
        if (text.Trim().Equals("off", StringComparison.OrdinalIgnoreCase))
            return new Problem(PlanFault.NotAQuantity, "off cannot be pinned", "mark the source off under levels, and pin gains in dB");
        var problem = Measure.Gain.Read(text, out gain);
        return problem is { Code: PlanFault.NotAQuantity } ? problem with { Remedy = Forms } : problem;
    }
}
