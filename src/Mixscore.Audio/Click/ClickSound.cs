using Mixscore.Loudness;
using Mixscore.Planning;

namespace Mixscore.Audio;

/// <summary>
/// The sound of a click: a pitch that begins at its full height on its first sample, so that its onset is one sample
/// wide, and dies away. Pitches and levels are our own: to be told apart through the noise of an engine.
/// </summary>
/// <param name="Hertz">Its pitch.</param>
/// <param name="Peak">Its first sample, relative to full scale.</param>
/// <param name="Decay">Seconds in which it falls by a factor of e.</param>
internal sealed record ClickSound(double Hertz, Decibels Peak, double Decay)
{
    /// <summary>After so many times its decay it is 60 dB down, and ends.</summary>
    private const double Lifetimes = 6.9;

    /// <summary>The sound of a kind of click.</summary>
    internal static ClickSound Of(ClickKind kind) => kind switch
    {
        ClickKind.Accent => new ClickSound(2000, Decibels.Of(-6), 0.006),
        ClickKind.Beat => new ClickSound(1400, Decibels.Of(-9), 0.005),
        _ => new ClickSound(1000, Decibels.Of(-15), 0.003),
    };

    /// <summary>Its samples, full scale 1.</summary>
    internal float[] Samples(int sampleRate)
    {
        var samples = new float[(int)(Lifetimes * Decay * sampleRate)];
        var peak = Math.Pow(10, Peak.Value / 20);
        for (var i = 0; i < samples.Length; i++)
        {
            var t = (double)i / sampleRate;
            samples[i] = (float)(peak * Math.Exp(-t / Decay) * Math.Cos(2 * Math.PI * Hertz * t));
        }
        return samples;
    }
}
