namespace Mixscore.Audio;

/// <summary>What makes a family of instruments sound as it does. Set by ear and by spectrum; common practice, no source.</summary>
internal sealed record Instrument
{
    private static readonly Instrument Brass = new()
    {
        Soft = new Wavetable(k => Math.Pow(k, -2.3)),
        Bright = new Wavetable(k => Math.Pow(k, -1.15)),
        Rise = 0.03,
        Fall = 0.06,
        Slide = 0.012,
        Vibrato = 0.03,
        Breath = 0.012f,
        Bite = 0.05f,
        Direct = 0.6f,
        Body = [480],
    };

    private static readonly Instrument Reed = new()
    {
        Soft = new Wavetable(k => k % 2 == 1 ? Math.Pow(k, -1.9) : 0.04 * Math.Pow(k, -1.2)),
        Bright = new Wavetable(k => k % 2 == 1 ? Math.Pow(k, -1.15) : 0.25 * Math.Pow(k, -0.9)),
        Rise = 0.018,
        Fall = 0.035,
        Slide = 0.006,
        Vibrato = 0,
        Breath = 0.02f,
        Bite = 0.06f,
        Direct = 0.7f,
        Body = [1500, 3000],
    };

    private static readonly Instrument String = new()
    {
        Soft = new Wavetable(k => Math.Pow(k, -1.45), seed: 5),
        Bright = new Wavetable(k => Math.Pow(k, -1.0), seed: 5),
        Rise = 0.05,
        Fall = 0.09,
        Slide = 0.018,
        Vibrato = 0.16,
        Breath = 0.05f,
        Bite = 0.18f,
        Direct = 0.4f,
        Body = [230, 470, 1100, 2400],
    };

    private static readonly (string Word, Instrument Family)[] Families =
    [
        ("clarinet", Reed), ("oboe", Reed), ("bassoon", Reed), ("flute", Reed), ("sax", Reed), ("accordion", Reed),
        ("violin", String), ("viola", String), ("cello", String), ("bass", String), ("fiddle", String), ("harp", String),
    ];

    /// <summary>The tone at its softest.</summary>
    internal required Wavetable Soft { get; init; }

    /// <summary>The tone at its loudest.</summary>
    internal required Wavetable Bright { get; init; }

    /// <summary>How fast a note comes and goes, and how fast the pitch moves, seconds.</summary>
    internal required double Rise { get; init; }

    internal required double Fall { get; init; }

    internal required double Slide { get; init; }

    /// <summary>Semitones either way.</summary>
    internal required double Vibrato { get; init; }

    /// <summary>Noise under the tone, and at its beginning.</summary>
    internal required float Breath { get; init; }

    internal required float Bite { get; init; }

    /// <summary>How much is heard past the body.</summary>
    internal required float Direct { get; init; }

    /// <summary>Where the body resonates, Hz.</summary>
    internal required double[] Body { get; init; }

    /// <summary>The family that a part's name tells; brass where it tells none.</summary>
    internal static Instrument Of(string name) =>
        Array.Find(Families, family => name.Contains(family.Word, StringComparison.OrdinalIgnoreCase)).Family ?? Brass;
}
