using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary><c>limits:</c>, such as <c>{ fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP }</c>.</summary>
internal static class LimitsSection
{
    internal static Limits Read(YamlPair? pair, FaultList faults)
    {
        var usual = new Limits();
        if (pair is null || Section.Open("the limits", pair.Value, pair.Key.Place, faults, "fader", "speed", "hand",
            "loudness", "true-peak") is not { } limits)
            return usual;
        var (bottom, top) = ReadFader(limits, limits["fader"], faults) ?? (usual.Bottom, usual.Top);
        return new Limits
        {
            Bottom = bottom,
            Top = top,
            Speed = limits.Quantity("speed", Measure.Speed, usual.Speed),
            Hand = limits.Quantity("hand", Measure.Speed, usual.Hand),
            Loudness = limits["loudness"] is null ? null : new Lufs(limits.Quantity("loudness", Measure.Reference, 0)),
            TruePeak = Decibels.Of(limits.Quantity("true-peak", Measure.TruePeak, usual.TruePeak.Value)),
        };
    }

    private static (Decibels Bottom, Decibels Top)? ReadFader(Section limits, YamlPair? pair, FaultList faults)
    {
        if (limits.Text(pair) is not { } text) return null;
        var place = pair!.Value.Place;
        var ends = text.Split("..");
        if (ends.Length != 2)
        {
            faults.Add(PlanFault.NotAQuantity, place, $"\"{text}\" is not a fader's range",
                "write its bottom, two dots and its top, such as \"-60 .. +10 dB\"");
            return null;
        }
        if ((Measure.Gain.Read(ends[0], out var bottom) ?? Measure.Gain.Read(ends[1], out var top)) is { } problem)
        {
            limits.Add(problem, place);
            return null;
        }
        _ = Measure.Gain.Read(ends[1], out top);
        if (bottom < top) return (Decibels.Of(bottom), Decibels.Of(top));
        faults.Add(PlanFault.OutOfRange, place, $"a fader cannot run from {ends[0].Trim()} to {ends[1].Trim()}",
            "write the bottom first, such as \"-60 .. +10 dB\"");
        return null;
    }
}
