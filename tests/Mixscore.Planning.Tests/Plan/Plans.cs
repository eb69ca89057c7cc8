using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

/// <summary>Plan texts for tests, and short ways to read them.</summary>
internal static class Plans
{
    /// <summary>The example of the design, with the sources and sites that it names.</summary>
    internal const string Ferry = """
        title: Night Ferry
        score: night-ferry.musicxml
        reference: -23 LUFS
        tempo:                      # only where the score leaves it open
          D: 72 > 60 by end         # an allargando, in quarters a minute
          40:4: hold 3.5 s          # a fermata
        sites:
          north: { link: { delay: 38 ms, on-drop: fade 300 ms } }
        sources:
          north.voice:  { role: voice,      stem: stems/north-voice.wav,  strip: 1, within: 2 LU }
          north.horn:   { role: instrument, stem: stems/north-horn.wav,   strip: 2, part: P1 }
          north.engine: { role: ambient,    stem: stems/north-engine.wav, strip: 3, part: P4 }
        levels:
          north.engine:
            1: off
            5: -18                  # held
            9..13: -18 > -6         # moves, straight in dB
            13: -6
            C: under north.horn by 8
        limits: { fader: -60 .. +10 dB, speed: 24 dB/s, hand: 120 dB/s, true-peak: -1 dBTP }

        """;

    /// <summary>Lines 1 to 9 of a small sound plan; what a test adds begins on line 10.</summary>
    internal const string Head = """
        title: T
        score: s.musicxml
        sites:
          north: { link: { delay: 38 ms } }
        sources:
          north.voice: { role: voice, stem: v.wav, strip: 1 }
          north.horn: { role: instrument, stem: h.wav, strip: 2, part: P1 }
          north.engine: { role: ambient, stem: e.wav, strip: 3 }


        """;

    internal static MixPlan Read(string text) => PlanReader.Parse(text, "t.mix.yaml");

    /// <summary>The plan of <see cref="Head"/> with these marks of north.voice, a line each, from line 12 on.</summary>
    internal static string WithMarks(params string[] marks) =>
        Head + "levels:\n  north.voice:\n" + string.Concat(marks.Select(mark => $"    {mark}\n"));

    /// <summary>Every fault of a text as code, line and column.</summary>
    internal static string[] Faults(string text) =>
        [.. FaultsOf(text).Select(fault => $"{fault.Code} {fault.Place.Line},{fault.Place.Column}")];

    internal static IReadOnlyList<Fault> FaultsOf(string text) => Assert.Throws<InputException>(() => Read(text)).Faults;
}
