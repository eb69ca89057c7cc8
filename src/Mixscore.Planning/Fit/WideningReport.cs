using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Tells where a source's level was widened and why, in a musician's words.</summary>
internal sealed class WideningReport(SourceToFit source, Timeline timeline, Limits limits, FaderGrid grid)
{
    /// <summary>Less than this, in dB, is rounding and not straying.</summary>
    private const double Hair = 1e-6;

    /// <summary>The stretches in order.</summary>
    /// <param name="problem">What was asked.</param>
    /// <param name="widenings">Where bands were widened.</param>
    /// <param name="ride">The ride that was found.</param>
    /// <param name="swallowed">Segments that have no beat of their own between two stretches off.</param>
    public IReadOnlyList<WidenedStretch> Of(BandProblem problem, IReadOnlyList<Widening> widenings, Ride ride, IReadOnlyList<LevelSegment> swallowed)
    {
        var stretches = new List<WidenedStretch>();
        foreach (var pin in problem.Pins)
            if (Astray(problem, pin, ride) is { } astray)
                stretches.Add(Stretch(problem.Samples[astray.First].At, problem.Samples[astray.Last].At, astray));
        foreach (var widening in Joined(problem, widenings.Select(widening => Strayed(problem, widening, ride))))
            stretches.Add(Stretch(problem.Samples[widening.First].At, problem.Samples[widening.Last].At, widening));
        foreach (var segment in swallowed)
        {
            BandSample[] asked = [.. problem.Samples.Where(sample => sample.At >= segment.From.ToDouble() && sample.At < segment.To.ToDouble())];
            if (asked.Length == 0) continue;
            var missing = Math.Max(0, asked.Max(sample => sample.Low) - limits.Bottom.Value);
            stretches.Add(Stretch(asked[0].At, asked[^1].At, new Widening(0, 0, missing, Because.NoRoom, 0, 0, 0)));
        }
        return [.. stretches.OrderBy(stretch => stretch.From).ThenBy(stretch => stretch.To)];
    }

    /// <summary>A widened stretch, drawn in to where the ride does stray, and by how much it does.</summary>
    private static Widening Strayed(BandProblem problem, Widening widening, Ride ride)
    {
        if (widening.Because == Because.NoRoom) return widening;
        var (first, last, most) = (widening.Last, widening.First, 0.0);
        for (var i = widening.First; i <= widening.Last; i++)
        {
            var sample = problem.Samples[i];
            if (ride.At(sample.At) is not { } gain) continue;
            var by = Math.Max(sample.Low - gain.Value, gain.Value - sample.High);
            if (by <= Hair) continue;
            (first, last, most) = (Math.Min(first, i), Math.Max(last, i), Math.Max(most, by));
        }
        return most > 0 ? widening with { First = first, Last = last, By = most } : widening;
    }

    /// <summary>Where a pin holds the ride out of its band; <c>null</c> where it does not.</summary>
    private static Widening? Astray(BandProblem problem, PinnedStretch pin, Ride ride)
    {
        int[] on = [.. Enumerable.Range(0, problem.Samples.Length).Where(i => problem.Beats[pin.From] <= problem.Samples[i].At && problem.Samples[i].At <= problem.Beats[pin.To])];
        if (on.Length == 0) return null;
        var strayed = Strayed(problem, new Widening(on[0], on[^1], 0, Because.Pinned, 0, 0, 0), ride);
        return strayed.By > 0 ? strayed : null;
    }

    /// <summary>Too quiet or too loud now and again within neighbouring bars is one thing to tell, not many.</summary>
    private List<Widening> Joined(BandProblem problem, IEnumerable<Widening> widenings)
    {
        var joined = new List<Widening>();
        foreach (var widening in widenings)
        {
            var i = joined.FindLastIndex(other => other.Because == widening.Because);
            if (i >= 0 && widening.Because is Because.TooQuiet or Because.TooLoud
                && timeline.BarAt(problem.Samples[widening.First].At).Index - timeline.BarAt(problem.Samples[joined[i].Last].At).Index <= 1)
                joined[i] = joined[i] with { Last = widening.Last, By = Math.Max(joined[i].By, widening.By) };
            else
                joined.Add(widening);
        }
        return joined;
    }

    private WidenedStretch Stretch(double from, double to, Widening widening)
    {
        var first = Math.Min(grid.AtOrBefore(from), grid.Last - 1);
        var last = grid.AtOrBefore(to);
        if (grid.Beats[last] < to || last == first) last = Math.Min(grid.Last, last + 1);
        return new WidenedStretch(
            grid.PlaceOf(first), grid.PlaceOf(last), Decibels.Of(widening.By), widening.Because, $"{Bars(from, to)}: {source.Name} {Reason(widening, source.Levels.SegmentAt(from).Within(source.Within))}");
    }

    private string Reason(Widening widening, Decibels within) => widening.Because switch
    {
        Because.TooQuiet => $"arrives {Number(widening.By)} dB too quiet for a fader that tops at {Signed(limits.Top)}",
        Because.TooLoud => $"arrives {Number(widening.By)} dB too loud for a fader whose bottom is {Signed(limits.Bottom)}",
        Because.TooFast => $"would have to move {Number(widening.Move)} dB in {Length(widening)} s; the limit is {Number(limits.Speed)} dB/s",
        Because.Pinned => $"is pinned there, {Number(widening.By)} dB further from its level than its {Number(within.Value)} LU",
        Because.TooNarrow => $"swells and falls within {grid.Step} by more than a straight move can follow; it strays {Number(widening.By)} dB further than its {Number(within.Value)} LU",
        _ => $"is off before and after, {(grid.Step == "a beat" ? "with no beat" : "without " + grid.Step)} between on which it could be open",
    };

    private string Length(Widening widening) =>
        Number((timeline.Tempo.SecondsAt(widening.MoveTo) - timeline.Tempo.SecondsAt(widening.MoveFrom)).Value);

    private string Bars(double from, double to)
    {
        var (first, last) = (timeline.BarAt(from), timeline.BarAt(to));
        return first.Index == last.Index ? $"bar {Label(first)}" : $"bars {Label(first)}–{Label(last)}";
    }

    private string Label(PlayedBar bar) => timeline.PositionAt(bar.Start).ToString();

    /// <summary>A tenth of a dB is as fine as anyone hears; what is less is told in hundredths, so that it is never 0.</summary>
    private static string Number(double value) => value.ToString(value < 0.1 ? "0.0#" : "0.#", CultureInfo.InvariantCulture);

    private static string Signed(Decibels value) => value.Value.ToString("+0.#;-0.#;0", CultureInfo.InvariantCulture);
}
