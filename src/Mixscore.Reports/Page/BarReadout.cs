using System.Text.Json;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>What the pointer reads out over a plot: the figures of each source in each bar.</summary>
/// <param name="Timeline">The piece.</param>
/// <param name="Figures">What each figure is, and its unit; in dB a figure that is <c>null</c> is off.</param>
/// <param name="Sources">By source, for each bar played as many values as there are figures.</param>
internal sealed record BarReadout(Timeline Timeline, IReadOnlyList<(string Name, string Unit)> Figures, IReadOnlyDictionary<string, IReadOnlyList<double?[]>> Sources)
{
    internal string Json => JsonSerializer.Serialize(new
    {
        left = TimeAxis.Left,
        width = TimeAxis.Width,
        full = TimeAxis.FullWidth,
        duration = Math.Round(Timeline.Duration.Value, 3),
        figures = Figures.Select(figure => new[] { figure.Name, figure.Unit }),
        bars = Timeline.Bars.Select(bar => bar.ToString()),
        starts = Timeline.Bars.Select(bar => Math.Round(Timeline.Tempo.SecondsAt(bar.Start).Value, 3)),
        sources = Sources.ToDictionary(source => source.Key, source => source.Value.Select(bar => bar.Select(value => value is { } v ? Math.Round(v, 1) : (double?)null))),
    });
}
