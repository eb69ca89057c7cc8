using Mixscore.Audio;
using Mixscore.Live;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page.Tests;

/// <summary>
/// Eight bars of 4/4 at 120 (16 s), bars 3 and 4 repeated, letter A at bar 3; two sources that sound a 997 Hz tone all the time,
/// at −20 and −30 dBFS, and rides that stand at 0 and −6 dB. Invented.
/// </summary>
internal sealed class SmallPiece : IDisposable
{
    internal const int Rate = 48_000;

    internal SmallPiece()
    {
        Directory.CreateDirectory(PathOf("stems"));
        File.WriteAllText(PathOf("small.musicxml"), Score());
        File.WriteAllText(PathOf("small.mix.yaml"), """
            title: Small
            score: small.musicxml
            reference: -23 LUFS
            sites:
              near: { link: { delay: 0 ms, on-drop: fade 300 ms } }
            sources:
              near.voice:  { role: voice,   stem: stems/voice.wav,  strip: 1, within: 2 LU, part: P1 }
              near.engine: { role: ambient, stem: stems/engine.wav, strip: 2, within: 3 LU, part: P2 }
            limits: { fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP }
            levels:
              near.voice: { 1: -6 }
              near.engine: { 1: -18 }
            """);
        WriteTone("stems/voice.wav", -20);
        WriteTone("stems/engine.wav", -30);
        Project = Open();
    }

    internal PageProject Project { get; }

    internal string Folder { get; } = Path.Combine(Path.GetTempPath(), "mixscore-page-" + Guid.NewGuid().ToString("n")[..8]);

    internal string PathOf(string name) => Path.Combine(Folder, name);

    /// <summary>A run of it without a desk: to be ticked by a rehearsal, or on a thread of its own with two bars of count-in.</summary>
    internal LiveSession NewSession(bool isPerformance = false) => LiveSession.Open(LivePlan.Of(Project.OnScore, Project.Rides), new SessionOptions
    {
        Desks = [],
        Run = new RunSettings { CountInBars = isPerformance ? 2 : 0 },
        Plan = PathOf("small.mix.yaml"),
        PlanKey = "",
        LogFolder = PathOf("log"),
        IsTickedFromOutside = !isPerformance,
    }, TimeProvider.System);

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private PageProject Open()
    {
        var onScore = PlanOnScore.Open(PathOf("small.mix.yaml"));
        var stems = StemSet.Open(onScore.Plan, onScore.Timeline);
        var measured = StemMeasure.Measure(stems, onScore.Timeline, StemMeasure.CacheFolder(onScore.Plan), Performance.Of(onScore.Score, onScore.Timeline));
        Ride Flat(string name, double gain) => new(name, [new Vertex(Quarters.Zero, Decibels.Of(gain)), new Vertex(onScore.Timeline.End, Decibels.Of(gain))], onScore.Plan.Limits.Bottom);
        Ride[] rides = [Flat("near.voice", 0), Flat("near.engine", -6)];
        var sources = onScore.Sources.Zip(measured, (source, stem) =>
            new SourceToFit(source.Source.Name, source.Source.Within, source.Levels, ActiveLoudness.Of(stem, onScore.Plan.Reference, 0.1, source.Source.Window), source.Source.Site.Link.Delay) { Grid = source.Source.Grid }).ToArray();
        return new PageProject { OnScore = onScore, Rides = rides, Stems = measured, Asked = AskedOverTime.Of(onScore.Timeline, onScore.Plan.Limits, sources, rides) };
    }

    private void WriteTone(string stem, double level)
    {
        var samples = new float[22 * Rate];
        var amplitude = Math.Pow(10, level / 20);
        for (var i = 0; i < samples.Length; i++) samples[i] = (float)(amplitude * Math.Sin(2 * Math.PI * 997 * i / Rate));
        using var writer = new StemWriter(PathOf(stem), new SoundFormat(Rate, 1));
        writer.Write(samples);
        writer.Finish();
    }

    private static string Score()
    {
        static string Bar(int number, string step) => $"<measure number=\"{number}\">"
            + (number == 1 ? "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><direction><sound tempo=\"120\"/></direction>" : "")
            + (number == 3 ? "<barline location=\"left\"><repeat direction=\"forward\"/></barline><direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>" : "")
            + $"<note><pitch><step>{step}</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note>"
            + (number == 4 ? "<barline location=\"right\"><repeat direction=\"backward\"/></barline>" : "") + "</measure>";
        static string Part(string id, string step) => $"<part id=\"{id}\">" + string.Concat(Enumerable.Range(1, 6).Select(bar => Bar(bar, step))) + "</part>";
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?><score-partwise version=\"4.0\"><part-list><score-part id=\"P1\"><part-name>Voice</part-name></score-part>"
            + "<score-part id=\"P2\"><part-name>Engine</part-name></score-part></part-list>" + Part("P1", "C") + Part("P2", "G") + "</score-partwise>";
    }
}
