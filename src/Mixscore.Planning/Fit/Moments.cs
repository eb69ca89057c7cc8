namespace Mixscore.Planning;

/// <summary>
/// Sums over samples (t, y) that give the squared distance of any line from them in O(1):
/// Σ(u + m·t − y)² = n·u² + 2·u·m·Σt + m²·Σt² − 2·u·Σy − 2·m·Σty + Σy².
/// </summary>
internal readonly record struct Moments(double N, double T, double Tt, double Y, double Ty, double Yy)
{
    /// <summary>With one more sample.</summary>
    public Moments With(double t, double y) => new(N + 1, T + t, Tt + t * t, Y + y, Ty + t * y, Yy + y * y);

    /// <summary>These together with others whose t are counted from a place that lies later.</summary>
    public Moments With(in Moments later, double by) => new(
        N + later.N, T + later.T + by * later.N, Tt + later.Tt + 2 * by * later.T + by * by * later.N,
        Y + later.Y, Ty + later.Ty + by * later.Y, Yy + later.Yy);

    /// <summary>The squared distance of the line u + m·t, in dB² over all samples.</summary>
    public double Distance(double u, double m) =>
        N * u * u + 2 * u * m * T + m * m * Tt - 2 * u * Y - 2 * m * Ty + Yy;

    /// <summary>The slope that is nearest for a given u; 0 where no sample tells.</summary>
    public double BestSlope(double u) => Tt > 0 ? (Ty - u * T) / Tt : 0;
}
