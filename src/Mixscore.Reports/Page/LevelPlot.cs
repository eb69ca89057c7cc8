using System.Text;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// One source over the bars, in two panels: above, the band that its marks allow, its stem as it arrives and what is
/// heard, in LU over the reference; below, the ride with its vertices, in dB.
/// </summary>
internal sealed class LevelPlot(TimeAxis axis, Timeline timeline, MixPlan plan, CheckedSource source)
{
    private const double LevelTop = 22;
    private const double LevelBottom = 178;
    private const double RideTop = 198;
    private const double RideBottom = 266;
    private const double Height = 290;

    private readonly LevelAxis _levels = new(LevelRange(source.Trace), LevelTop, LevelBottom);
    private readonly FaderAxis _gains = new(plan.Limits, RideTop, RideBottom);

    internal string Svg()
    {
        var svg = new StringBuilder();
        svg.Append($"<svg viewBox=\"0 0 {Markup.N(TimeAxis.FullWidth)} {Markup.N(Height)}\" class=\"plot {RoleMark.Class(source.Source.Role)}\" role=\"img\" aria-label=\"{Markup.Text(Label)}\">");
        Stretches(svg);
        svg.Append(axis.Grid(LevelTop, RideBottom));
        _levels.Draw(svg);
        _gains.Draw(svg);
        Levels(svg);
        Ride(svg);
        Outside(svg);
        svg.Append($"<line class=\"cursor\" y1=\"{Markup.N(LevelTop)}\" y2=\"{Markup.N(RideBottom)}\" x1=\"-9\" x2=\"-9\"/>");
        return svg.Append("</svg>").ToString();
    }

    private string Label => $"{source.Source.Name}: level band, stem, what is heard, and the ride, over the bars";

    private void Levels(StringBuilder svg)
    {
        var trace = source.Trace;
        var band = new List<(double, double?, double?)>();
        var stem = new List<(double, double?)>();
        var heard = new List<(double, double?)>();
        foreach (var time in axis.Times)
        {
            var hop = trace.HopAt(time);
            var x = axis.X(time);
            var isThere = hop < trace.Active.Count;
            var high = isThere ? trace.High[hop] : null;
            band.Add((x, high is null ? null : _levels.Y(trace.Low[hop] ?? _levels.Low), high is null ? null : _levels.Y(high.Value)));
            stem.Add((x, isThere && trace.Stem[hop] is { } s ? _levels.Y(s) : null));
            heard.Add((x, isThere && trace.Heard[hop] is { } h && h > _levels.Low ? _levels.Y(h) : null));
        }
        svg.Append($"<path class=\"band\" d=\"{Markup.Area(band)}\"/>")
            .Append($"<path class=\"stem\" d=\"{Markup.Path(stem)}\"/>")
            .Append($"<path class=\"heard\" d=\"{Markup.Path(heard)}\"/>");
    }

    private void Ride(StringBuilder svg)
    {
        var ride = source.Ride;
        // Vertices are drawn exactly: the curve passes every vertex and is sampled in between, since it is straight over quarters, not seconds.
        var places = axis.Times.Select(time => timeline.Tempo.QuartersAt(time)).Concat(ride.Vertices.Select(vertex => vertex.At.ToDouble())).Order();
        var points = places.Select(quarters => (axis.X(timeline.Tempo.SecondsAt(quarters)), ride.At(quarters) is { } gain ? _gains.Y(gain.Value) : (double?)null));
        foreach (var (from, to) in source.Pinned)
        {
            var (x, end) = (axis.X(from), axis.X(to));
            svg.Append($"<path class=\"pinned\" d=\"M{Markup.N(x)} {Markup.N(RideBottom - 4)}L{Markup.N(end)} {Markup.N(RideBottom - 4)}\"><title>pinned by hand</title></path>")
                .Append($"<path class=\"pin\" d=\"M{Markup.N(x)} {Markup.N(RideTop)}V{Markup.N(RideBottom)}M{Markup.N(end)} {Markup.N(RideTop)}V{Markup.N(RideBottom)}\"/>");
        }
        svg.Append($"<path class=\"ride\" d=\"{Markup.Path(points)}\"/>");
        foreach (var vertex in ride.Vertices)
        {
            var x = axis.X(vertex.At);
            var y = _gains.Y(vertex.Gain?.Value ?? plan.Limits.Bottom.Value);
            svg.Append(vertex.Gain is null
                ? $"<path class=\"offmark\" d=\"M{Markup.N(x - 3)} {Markup.N(y - 3)}l6 6m0 -6l-6 6\"/>"
                : $"<circle class=\"vertex\" cx=\"{Markup.N(x)}\" cy=\"{Markup.N(y)}\" r=\"2.6\"/>");
        }
    }

    /// <summary>Dropouts, noise bursts and widened stretches, behind everything else.</summary>
    private void Stretches(StringBuilder svg)
    {
        foreach (var (from, to) in source.Drops)
            Stretch(svg, "drop", from - source.Trace.Delay, to - source.Trace.Delay, "the link drops out");
        foreach (var (from, to) in source.Bursts)
            Stretch(svg, "burst", from - source.Trace.Delay, to - source.Trace.Delay, "noise of the link");
        foreach (var widened in source.Widened) Stretch(svg, "widened", widened.From, widened.To, widened.Because);
    }

    private void Stretch(StringBuilder svg, string kind, Seconds from, Seconds to, string title)
    {
        var x = axis.X(from);
        svg.Append($"<rect class=\"{kind}\" x=\"{Markup.N(x)}\" width=\"{Markup.N(Math.Max(2, axis.X(to) - x))}\" y=\"{Markup.N(LevelTop)}\" height=\"{Markup.N(RideBottom - LevelTop)}\"><title>{Markup.Text(title)}</title></rect>");
    }

    /// <summary>A cross over every bar that does not sit within its level: never told by colour alone.</summary>
    private void Outside(StringBuilder svg)
    {
        foreach (var bar in source.Bars.Where(bar => bar.Within == false))
        {
            var x = (axis.X(bar.Bar.Start) + axis.X(bar.Bar.End)) / 2;
            svg.Append($"<path class=\"outside\" d=\"M{Markup.N(x - 4)} {Markup.N(LevelTop + 3)}l8 8m0 -8l-8 8\"><title>bar {Markup.Text(bar.Bar.ToString())}: asked {Markup.Signed(bar.Target?.Value)}, heard {Markup.Signed(bar.Heard?.Value)} LU</title></path>");
        }
    }

    private static (double Low, double High) LevelRange(SourceTrace trace)
    {
        var levels = trace.Stem.Concat(trace.Low).Concat(trace.High).OfType<double>().Order().ToArray();
        if (levels.Length == 0) return (-36, 6);
        // A few soft hops at the edges of rests must not squeeze all the rest.
        var low = Math.Max(-60, levels[levels.Length / 50]);
        return LevelAxis.Around(low, levels[^1]);
    }
}
