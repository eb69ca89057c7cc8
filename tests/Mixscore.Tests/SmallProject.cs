using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Screen;

namespace Mixscore.Tests;

/// <summary>
/// Twelve bars of 4/4 at 120 (24 s), two sources that play all the time, stems of known loudness: a 997 Hz tone at
/// −33 dBFS and another at −20. Invented.
/// </summary>
internal sealed class SmallProject : IDisposable
{
    internal const string Levels = """
        levels:
          near.voice:
            1: -6
            7: -12
          near.engine:
            1: -18
        """;

    internal SmallProject(string levels = Levels)
    {
        Directory.CreateDirectory(PathOf("stems"));
        File.WriteAllText(PathOf("small.musicxml"), Score());
        WritePlan(levels);
        WriteTone("stems/voice.wav", -33, 26);
        WriteTone("stems/engine.wav", -20, 26);
        File.WriteAllText(PathOf("osc.desk.yaml"), """
            title: A desk
            protocol: osc
            to: udp://127.0.0.1:9000
            strip:
              fader: { address: "/strip/{strip}/fader", type: f, off: 0.0, law: [[-60, 0.05], [0, 0.75], [+10, 1.0]] }
            """);
        File.WriteAllText(PathOf("midi.desk.yaml"), """
            title: Another desk
            protocol: midi
            to: rtp-midi://127.0.0.1:5004
            strip:
              fader: { channel: 1, control: "{strip - 1}", bits: 14, off: 0, law: [[-60, 800], [0, 12288], [+10, 16383]] }
            """);
    }

    internal string Folder { get; } = Path.Combine(Path.GetTempPath(), "mixscore-small-" + Guid.NewGuid().ToString("n")[..8]);

    internal string Plan => PathOf("small.mix.yaml");

    internal string PathOf(params string[] parts) => Path.Combine([Folder, .. parts]);

    internal void WritePlan(string levels, string voiceStem = "stems/voice.wav") => File.WriteAllText(Plan, $$"""
        title: Small
        score: small.musicxml
        reference: -23 LUFS
        sites:
          near: { link: { delay: 20 ms, on-drop: fade 300 ms } }
        sources:
          near.voice:  { role: voice,   stem: {{voiceStem}}, strip: 1, within: 2 LU, part: P1 }
          near.engine: { role: ambient, stem: stems/engine.wav, strip: 2, within: 3 LU, part: P2 }
        limits: { fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP }

        """ + levels + "\n");

    internal void WriteTone(string stem, double level, double seconds, int rate = 48_000, (double At, double Seconds) noise = default)
    {
        var samples = new float[(int)(seconds * rate)];
        var amplitude = Math.Pow(10, level / 20);
        for (var i = 0; i < samples.Length; i++) samples[i] = (float)(amplitude * Math.Sin(2 * Math.PI * 997 * i / rate));
        var chance = new Random(1);
        for (var i = (int)(noise.At * rate); i < (int)((noise.At + noise.Seconds) * rate); i++) samples[i] = 0.1f * (2 * chance.NextSingle() - 1);
        using var writer = new StemWriter(PathOf(stem), new SoundFormat(rate, 1));
        writer.Write(samples);
        writer.Finish();
    }

    /// <summary>Runs a verb as the program does, without a process.</summary>
    internal static async Task<Ended> Run(params string[] arguments)
    {
        using var output = new StringWriter();
        using var error = new StringWriter();
        var code = await CommandLine.RunAsync(arguments, Terminal.Of(output, error), TestContext.Current.CancellationToken);
        return new Ended(code, output.ToString(), error.ToString());
    }

    public void Dispose() => Directory.Delete(Folder, recursive: true);

    private static string Score()
    {
        static string Part(string id, string step) => $"<part id=\"{id}\">" + string.Concat(Enumerable.Range(1, 12).Select(bar =>
            $"<measure number=\"{bar}\">{(bar == 1 ? "<attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time></attributes><direction><direction-type><dynamics><mf/></dynamics></direction-type><sound tempo=\"120\"/></direction>" : "")}"
            + $"{(bar == 5 ? "<direction><direction-type><rehearsal>A</rehearsal></direction-type></direction>" : "")}"
            + $"<note><pitch><step>{step}</step><octave>4</octave></pitch><duration>4</duration><type>whole</type></note></measure>")) + "</part>";
        return "<?xml version=\"1.0\" encoding=\"UTF-8\"?><score-partwise version=\"4.0\"><work><work-title>Small</work-title></work><part-list><score-part id=\"P1\"><part-name>Near voice</part-name></score-part>"
            + "<score-part id=\"P2\"><part-name>Near engine</part-name></score-part></part-list>" + Part("P1", "C") + Part("P2", "G") + "</score-partwise>";
    }
}

/// <summary>How a run ended.</summary>
internal sealed record Ended(int Code, string Output, string Error);
