namespace Mixscore.Reports;

/// <summary>
/// The Speech Intelligibility Index of ANSI S3.5-1997, one-third octave band procedure: how much of the speech a listener
/// can make use of over a noise, from 0 to 1. Clauses as two public codes of the procedure name them.
/// </summary>
public static class SpeechIntelligibility
{
    /// <summary>Stands for no noise in a band, dB a hertz.</summary>
    public const double NoNoise = -50;

    /// <summary>The index.</summary>
    /// <param name="speech">Equivalent speech spectrum levels, dB SPL a hertz, a value a band.</param>
    /// <param name="noise">Equivalent noise spectrum levels, dB SPL a hertz, a value a band.</param>
    /// <param name="threshold">Hearing threshold levels, dB HL, a value a band; <c>null</c> for 0 everywhere.</param>
    /// <param name="importance">How much each band counts; <c>null</c> for average speech.</param>
    /// <exception cref="ArgumentException">A list is not as long as there are bands.</exception>
    public static double Index(IReadOnlyList<double> speech, IReadOnlyList<double> noise, IReadOnlyList<double>? threshold = null, IReadOnlyList<double>? importance = null)
    {
        foreach (var list in (IReadOnlyList<double>?[])[speech, noise, threshold, importance])
            if (list is not null && list.Count != SpeechBands.Count)
                throw new ArgumentException($"there are {SpeechBands.Count} bands, not {list.Count}", nameof(speech));
        importance ??= SpeechBands.Importance;
        var masking = Masking(speech, noise);
        var index = 0.0;
        for (var i = 0; i < SpeechBands.Count; i++)
        {
            var ownNoise = SpeechBands.OwnNoise[i] + (threshold?[i] ?? 0);                                   // 4.5
            var disturbance = Math.Max(masking[i], ownNoise);                                                // 4.6
            var distortion = Math.Min(1, 1 - (speech[i] - SpeechBands.Normal[i] - 10) / 160);                // 4.7
            var audible = Math.Clamp((speech[i] - disturbance + 15) / 30, 0, 1);                             // 4.8
            index += importance[i] * distortion * audible;
        }
        return index;
    }

    /// <summary>Equivalent masking spectrum levels: noise, and speech's own lower bands, spread upward. Clause 4.3.</summary>
    /// <param name="speech">Equivalent speech spectrum levels, dB a hertz, a value a band.</param>
    /// <param name="noise">Equivalent noise spectrum levels, dB a hertz, a value a band.</param>
    public static IReadOnlyList<double> Masking(IReadOnlyList<double> speech, IReadOnlyList<double> noise)
    {
        const double SelfMasking = 24;
        var f = SpeechBands.Centres;
        var (masker, slope, masking) = (new double[SpeechBands.Count], new double[SpeechBands.Count], new double[SpeechBands.Count]);
        for (var i = 0; i < masking.Length; i++)
        {
            masker[i] = Math.Max(speech[i] - SelfMasking, noise[i]);
            slope[i] = -80 + 0.6 * (masker[i] + 10 * Math.Log10(f[i]) - 6.353);
            if (i == 0)
            {
                masking[i] = masker[i];
                continue;
            }
            var power = Math.Pow(10, noise[i] / 10);
            for (var k = 0; k < i; k++) power += Math.Pow(10, (masker[k] + 3.32 * slope[k] * Math.Log10(0.89 * f[i] / f[k])) / 10);
            masking[i] = 10 * Math.Log10(power);
        }
        return masking;
    }
}
