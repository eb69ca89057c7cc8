using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Says in words why a ride is what it is at a place: which mark, which loudness, which limit.</summary>
public static class RideExplanation
{
    /// <summary>Nearer to an end of the band than this, in dB, the band is what holds the ride.</summary>
    private const double Touching = 0.05;

    /// <summary>The sentences, the ride's first.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="limits">What a fader may do.</param>
    /// <param name="sources">All sources.</param>
    /// <param name="fitted">Their rides, in the same order.</param>
    /// <param name="name">The source that is asked about.</param>
    /// <param name="place">Where.</param>
    /// <exception cref="ArgumentException">There is no such source.</exception>
    public static IReadOnlyList<string> Of(
        Timeline timeline, Limits limits, IReadOnlyList<SourceToFit> sources, IReadOnlyList<FittedSource> fitted, string name, Quarters place)
    {
        var source = sources.FirstOrDefault(source => source.Name == name) ?? throw new ArgumentException($"there is no source {name}", nameof(name));
        var own = fitted.First(source => source.Source == name);
        var at = Math.Min(place.ToDouble(), timeline.End.ToDouble());
        var grid = new FaderGrid(timeline, limits, source.Grid);
        var said = new List<string> { Stands(timeline, own.Ride, place) };
        foreach (var pin in source.Pins.Where(pin => pin.From <= place && place <= pin.To)) said.Add($"It is pinned there, on line {pin.Place.Line} of the plan.");
        var asked = AskedOverTime.Of(timeline, limits, sources, [.. fitted.Select(source => source.Ride)])[name].At(at);
        said.Add(Mark(timeline, source.Levels.SegmentAt(place), asked.Target));
        if (asked is { Low: { } low, High: { } high } && new ScoreTrace(source, timeline, grid.Beats).At(at) is { } loudness)
        {
            if (high > low) said.Add($"A step of its marks is made here, so anything from {Signed(low)} to {Signed(high)} LU is right.");
            Allowed(said, source.Levels.SegmentAt(at).Within(source.Within).Value, limits, loudness, low, high, own.Ride.At(at)?.Value);
        }
        else if (asked.Target is not null) said.Add("The source rests here, or fades: nothing is asked of the fader, which goes straight on.");
        foreach (var stretch in own.Widened.Where(stretch => stretch.From <= place && place <= stretch.To)) said.Add($"Its level was widened by {Number(stretch.By.Value)} LU in {stretch.Text}.");
        return said;
    }

    private static string Stands(Timeline timeline, Ride ride, Quarters place)
    {
        var gain = ride.At(Math.Min(place.ToDouble(), timeline.End.ToDouble()));
        var next = ride.Vertices.ToList().FindIndex(vertex => vertex.At >= place);
        if (next < 0) next = ride.Vertices.Count - 1;
        var (from, to) = (ride.Vertices[Math.Max(0, next - 1)], ride.Vertices[next]);
        if (from.At == to.At) to = ride.Vertices[1];
        var stands = gain is { } g ? $"The fader of {ride.Source} stands at {Signed(g.Value)} dB at {timeline.PositionAt(place)}" : $"The fader of {ride.Source} is off at {timeline.PositionAt(place)}";
        var (start, end) = (timeline.PositionAt(from.At), timeline.PositionAt(to.At));
        return Math.Abs((from.Gain?.Value ?? ride.Bottom.Value) - (to.Gain?.Value ?? ride.Bottom.Value)) < Touching && from.Gain is null == to.Gain is null ? $"{stands}, as it does from {start} to {end}." : $"{stands}, on its way from {Gain(from)} at {start} to {Gain(to)} at {end}.";
    }

    private static string Mark(Timeline timeline, LevelSegment segment, double? target)
    {
        if (segment.Mark is not { } mark) return target is { } level ? $"{Signed(level)} LU is asked for." : "It has no mark yet, so it is off.";
        var where = $"The mark at {timeline.PositionAt(segment.From)} (line {mark.Place.Line})";
        return (segment, target) switch
        {
            (LevelSegment.Off, _) => $"{where} says off.",
            (LevelSegment.Leaning lean, { } level) => $"{where} asks for {Number(Math.Abs(lean.By.Value))} LU {(lean.By.Value < 0 ? "under" : "over")} {string.Join(", ", lean.Sources)}, which are heard at {Signed(level - lean.By.Value)} LU: {Signed(level)} LU.",
            (LevelSegment.Leaning lean, _) => $"{where} leans on {string.Join(", ", lean.Sources)}, of which nothing is heard here.",
            (_, { } level) => $"{where} asks for {Signed(level)} LU{ClearText.Write(mark.Clear)} here.",
            _ => $"{where} asks for nothing here.",
        };
    }

    private static void Allowed(List<string> said, double within, Limits limits, double loudness, double low, double high, double? gain)
    {
        var (least, most) = (low - within - loudness, high + within - loudness);
        said.Add($"Its stem arrives at {Signed(loudness)} LU, so to sit within {Number(within)} LU of its level the fader may stand from {Signed(least)} to {Signed(most)} dB.");
        if (gain is not { } g) return;
        if (Math.Abs(g - limits.Top.Value) < Touching) said.Add($"The fader is at its top, {Signed(limits.Top.Value)} dB.");
        else if (Math.Abs(g - limits.Bottom.Value) < Touching) said.Add($"The fader is at its bottom, {Signed(limits.Bottom.Value)} dB.");
        else if (g < least + Touching && g > least - Touching) said.Add("The ride lies along the lower edge of that: nearer to the middle would cost a vertex.");
        else if (g < most + Touching && g > most - Touching) said.Add("The ride lies along the upper edge of that: nearer to the middle would cost a vertex.");
        else if (Math.Abs(g - (least + most) / 2) < Touching) said.Add("It stands in the middle of that.");
        else if (g > least && g < most) said.Add($"That leaves it {Number(Math.Abs(g - (least + most) / 2))} dB {(g < (least + most) / 2 ? "under" : "over")} the middle: as near as this number of vertices allows.");
    }

    private static string Gain(Vertex vertex) => vertex.Gain is { } gain ? $"{Signed(gain.Value)} dB" : "off";

    private static string Signed(double value) => (Math.Round(value, 1) + 0.0).ToString("+0.0;-0.0;0.0", CultureInfo.InvariantCulture);

    private static string Number(double value) => value.ToString("0.#", CultureInfo.InvariantCulture);
}
