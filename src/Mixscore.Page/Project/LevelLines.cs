using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>What is drawn under the score for one source, in LU over the reference and in dB, over quarters as played.</summary>
/// <param name="Target">What its marks ask; nothing where it is off.</param>
/// <param name="Low">The lowest level that is right.</param>
/// <param name="High">The highest level that is right.</param>
/// <param name="Measured">How loud its stem is at 0 dB, where it plays.</param>
internal sealed record LevelLines(Polyline Target, Polyline Low, Polyline High, Polyline Measured)
{
    // A step in the marks is drawn upright: the level just before it is taken this much earlier, in quarters.
    private const double JustBefore = 1.0 / 1024;
    private const int PointsPerBeat = 4;

    internal static LevelLines Of(PageProject project, int index)
    {
        var (source, timeline) = (project.OnScore.Sources[index], project.Timeline);
        var asked = project.Asked[source.Source.Name];
        var lines = new LevelLines(new Polyline(), new Polyline(), new Polyline(), new Polyline());
        foreach (var at in Places(timeline, source.Levels))
        {
            var (target, low, high) = asked.At(at);
            var within = source.Levels.SegmentAt(at).Within(source.Source.Within).Value;
            lines.Target.Add(at, target);
            lines.Low.Add(at, (low ?? target) - within);
            lines.High.Add(at, (high ?? target) + within);
        }
        foreach (var sample in project.LoudnessOf(index).Samples)
        {
            var time = sample.At - source.Source.Site.Link.Delay;
            if (time >= Seconds.Zero && time <= timeline.Duration) lines.Measured.Add(timeline.Tempo.QuartersAt(time), sample.Loudness?.Value);
        }
        return lines;
    }

    private static SortedSet<double> Places(Timeline timeline, LevelLine levels)
    {
        var places = new SortedSet<double>();
        var beats = timeline.BeatGrid;
        for (var i = 0; i + 1 < beats.Count; i++)
            for (var part = 0; part < PointsPerBeat; part++)
                places.Add(beats[i].ToDouble() + (beats[i + 1] - beats[i]).ToDouble() * part / PointsPerBeat);
        foreach (var segment in levels.Segments)
        {
            places.Add(segment.From.ToDouble());
            if (segment.From > Quarters.Zero) places.Add(segment.From.ToDouble() - JustBefore);
        }
        places.Add(timeline.End.ToDouble() - JustBefore);
        return places;
    }
}
