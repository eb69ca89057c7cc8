namespace Mixscore.Loudness;

/// <summary>The A-weighting of sound level meters. Source: IEC 61672-1:2013, Annex E; its pole frequencies as derived there from fL = 10^1.5 Hz, fH = 10^3.9 Hz, fA = 10^2.45 Hz.</summary>
public static class AWeighting
{
    private const double F1 = 20.598997057618316, F2 = 107.65264864304629, F3 = 737.8622307362901, F4 = 12194.217147998012;

    /// <summary>What the formula gives at 1 kHz, where the weighting is 0 dB. IEC 61672-1:2013, Annex E: −2.000 dB.</summary>
    private const double At1000 = -2.000;

    /// <summary>The weighting at a frequency.</summary>
    /// <param name="hertz">Above 0.</param>
    public static Decibels At(double hertz) => Decibels.Of(10 * Math.Log10(Power(hertz)));

    /// <summary>By how much power is weighted at a frequency; 0 at 0 Hz.</summary>
    /// <param name="hertz">0 or more.</param>
    public static double Power(double hertz)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(hertz);
        var square = hertz * hertz;
        var gain = F4 * F4 * square * square
            / ((square + F1 * F1) * Math.Sqrt((square + F2 * F2) * (square + F3 * F3)) * (square + F4 * F4));
        return gain * gain * Math.Pow(10, -At1000 / 10);
    }
}
