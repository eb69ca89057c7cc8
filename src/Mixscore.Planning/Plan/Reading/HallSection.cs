namespace Mixscore.Planning;

/// <summary><c>hall:</c>, such as <c>{ temperature: 20 C, speakers: { left: 12 m }, calibration: { bars: 61..69, level: 84 dBA } }</c>.</summary>
internal static class HallSection
{
    internal static Hall Read(YamlPair? pair, FaultList faults)
    {
        var usual = new Hall();
        if (pair is null || Section.Open("the hall", pair.Value, pair.Key.Place, faults, "name", "temperature", "speakers", "calibration") is not { } hall) return usual;
        return new Hall
        {
            Name = ReadName(hall, faults),
            Temperature = hall.Quantity("temperature", Measure.Temperature, usual.Temperature),
            Loudspeakers = ReadSpeakers(hall["speakers"], faults),
            Calibration = ReadCalibration(hall["calibration"], faults),
        };
    }

    private static string? ReadName(Section hall, FaultList faults)
    {
        if (hall.Text(hall["name"]) is not { } name) return null;
        if (name.IndexOfAny(Path.GetInvalidFileNameChars()) < 0 && name[0] != '.') return name;
        faults.Add(PlanFault.NotAText, hall["name"]!.Value.Place, $"\"{name}\" cannot be the name of a file", "write a name without slashes, such as \"quay\": what the hall asks stands in halls/quay.yaml");
        return null;
    }

    private static List<Loudspeaker> ReadSpeakers(YamlPair? pair, FaultList faults)
    {
        var speakers = new List<Loudspeaker>();
        if (pair is null || !Section.IsMap("the loudspeakers", pair.Value, faults, "write a name, a colon and its distance from the listening place, such as \"left: 12 m\"", out var map)) return speakers;
        foreach (var (key, value) in map?.Pairs ?? [])
        {
            if (value is not YamlText text) faults.Add(PlanFault.WrongKind, value.Place, $"\"{key.Value}\" holds more than a distance", "write one, such as \"12 m\"");
            else if (Measure.Distance.Read(text.Value, out var metres) is { } problem) faults.Add(problem.Code, text.Place, problem.Found, problem.Remedy);
            else speakers.Add(new Loudspeaker(key.Value, metres));
        }
        return speakers;
    }

    private static Calibration? ReadCalibration(YamlPair? pair, FaultList faults)
    {
        const string Form = "write what was played and what the meter read over it, such as \"{ bars: 61..69, level: 84 dBA }\"";
        if (pair is null || Section.Open("a calibration", pair.Value, pair.Key.Place, faults, "bars", "level") is not { } calibration) return null;
        var (bars, level) = (calibration.Need("bars", Form), calibration.Need("level", Form));
        if (calibration.Text(bars) is not { } range || calibration.Text(level) is not { } text) return null;
        var problem = RangeText.Read(range, out var from, out var to);
        if (problem is null && to is null) problem = new Problem(PlanFault.NotAPosition, $"\"{range}\" is one position", "write a range, such as 61..69");
        if (problem is not null) calibration.Add(problem, bars!.Value.Place);
        if (Measure.SoundLevel.Read(text, out var measured) is not { } wrong) return problem is null ? new Calibration(from, to!, measured, bars!.Value.Place) : null;
        calibration.Add(wrong, level!.Value.Place);
        return null;
    }
}
