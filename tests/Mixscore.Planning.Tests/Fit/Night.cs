using Mixscore.Loudness;
using Mixscore.Planning.Tests.Levels;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Fit;

/// <summary>Makes sources to fit over twenty bars of four beats at 60, so that a beat is a quarter is a second.</summary>
internal static class Night
{
    public static Timeline Bars => Scores.Twenty;

    public static LevelLine Line(params LevelSegment[] segments) => new(segments, Decibels.Of(-60));

    public static LevelSegment Held(int from, int to, double level) => Move(from, to, level, level);

    public static LevelSegment Move(int from, int to, double? start, double? end) =>
        new LevelSegment.Straight(new Quarters(from), new Quarters(to), null, Level(start), Level(end));

    public static LevelSegment Off(int from, int to) => new LevelSegment.Off(new Quarters(from), new Quarters(to), null);

    public static LevelSegment Lean(int from, int to, double by, params string[] sources) =>
        new LevelSegment.Leaning(new Quarters(from), new Quarters(to), null, sources, Decibels.Of(by));

    /// <summary>A trace every 100 ms; <c>null</c> where the source rests.</summary>
    public static LoudnessTrace Trace(Func<double, double?> loudness, double delay = 0) => new(
        [.. Enumerable.Range(0, 801).Select(i => i / 10.0).Select(t => new LoudnessSample(new Seconds(t + delay), Level(loudness(t))))]);

    public static SourceToFit Source(LevelLine line, Func<double, double?> loudness, string name = "north.voice", double within = 2, double delay = 0) =>
        new(name, Decibels.Of(within), line, Trace(loudness, delay), new Seconds(delay));

    public static FittedSource Fitted(SourceToFit source, double speed = 24) => RideFitter.Fit(Bars, new Limits { Speed = speed }, [source])[0];

    /// <summary>Such as <c>0:off 14:off 16:-18 80:-18</c>, to a tenth of a dB.</summary>
    public static string Spoken(Ride ride) => string.Join(' ', ride.Vertices.Select(vertex =>
        $"{vertex.At}:{(vertex.Gain is { } gain ? (Math.Round(gain.Value, 1) + 0.0).ToString(System.Globalization.CultureInfo.InvariantCulture) : "off")}"));

    private static Decibels? Level(double? level) => level is { } value ? Decibels.Of(value) : null;
}
