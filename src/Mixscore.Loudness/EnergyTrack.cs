namespace Mixscore.Loudness;

/// <summary>
/// The K-weighted, channel-weighted energy of a whole sound, hop by hop, from which the loudness of any span is had at once.
/// Source: ITU-R BS.1770-5, Annex 1, eq. 2, without gating.
/// Immutable, and safe to read from many threads.
/// </summary>
/// <remarks>Before the first hop and after the last there is silence. Within a hop the energy is taken as even.</remarks>
public sealed class EnergyTrack
{
    private readonly double[] _hops;

    // Running sums in two parts, the second what the first lost in rounding, so that a soft span after hours of loud ones keeps
    // its digits when two of them are subtracted.
    private readonly double[] _sums, _lost;

    internal EnergyTrack(double hopSeconds, double[] hops)
    {
        HopSeconds = hopSeconds;
        _hops = hops;
        _sums = new double[hops.Length + 1];
        _lost = new double[hops.Length + 1];
        for (var i = 0; i < hops.Length; i++)
        {
            var (before, added) = (_sums[i], hops[i]);
            var sum = before + added;
            var part = sum - before;
            _sums[i + 1] = sum;
            _lost[i + 1] = _lost[i] + ((before - (sum - part)) + (added - part));
        }
    }

    /// <summary>Length of a hop, seconds; 0.01 on tracks made from sound.</summary>
    public double HopSeconds { get; }

    /// <summary>Mean square of each hop, full scale 1.</summary>
    public ReadOnlySpan<double> Hops => _hops;

    /// <summary>Length of all hops, seconds.</summary>
    public double Seconds => _hops.Length * HopSeconds;

    /// <summary>A track of given energies, such as another's times a gain.</summary>
    /// <param name="hopSeconds">Length of a hop, seconds, above 0.</param>
    /// <param name="energies">Mean square of each hop, zero or more; copied.</param>
    /// <exception cref="ArgumentOutOfRangeException">The length or an energy is out of its range, NaN or infinite.</exception>
    public static EnergyTrack FromHops(double hopSeconds, double[] energies)
    {
        ArgumentNullException.ThrowIfNull(energies);
        if (!(hopSeconds > 0 && double.IsFinite(hopSeconds)))
            throw new ArgumentOutOfRangeException(nameof(hopSeconds), hopSeconds, "A hop lasts more than 0 s.");
        foreach (var energy in energies)
            if (!(energy >= 0 && double.IsFinite(energy)))
                throw new ArgumentOutOfRangeException(nameof(energies), energy, "An energy is finite and not negative.");
        return new(hopSeconds, [.. energies]);
    }

    /// <summary>Loudness of the mean energy from one moment to another, ungated; <c>null</c> in silence.</summary>
    /// <param name="fromSeconds">May lie before 0.</param>
    /// <param name="toSeconds">After <paramref name="fromSeconds"/>; may lie past the end.</param>
    /// <exception cref="ArgumentOutOfRangeException">The span is empty, runs backwards, or is not finite.</exception>
    public Lufs? Loudness(double fromSeconds, double toSeconds) => Lufs.FromMeanSquare(MeanSquare(fromSeconds, toSeconds));

    /// <summary>Loudness of the window around a moment, half before and half after it.</summary>
    /// <param name="atSeconds">The middle.</param>
    /// <param name="windowSeconds">Length of the window, above 0: 3 for short-term loudness.</param>
    /// <exception cref="ArgumentOutOfRangeException">The window is not above 0, or a figure is not finite.</exception>
    public Lufs? Centred(double atSeconds, double windowSeconds) =>
        Loudness(atSeconds - windowSeconds / 2, atSeconds + windowSeconds / 2);

    /// <summary>Mean energy from one moment to another, full scale 1; 0 in silence.</summary>
    /// <inheritdoc cref="Loudness"/>
    public double MeanSquare(double fromSeconds, double toSeconds)
    {
        if (!double.IsFinite(fromSeconds))
            throw new ArgumentOutOfRangeException(nameof(fromSeconds), fromSeconds, "A span begins at a finite moment.");
        if (!(toSeconds > fromSeconds && double.IsFinite(toSeconds)))
            throw new ArgumentOutOfRangeException(nameof(toSeconds), toSeconds, "A span ends, later than it begins.");
        double from = fromSeconds / HopSeconds, to = toSeconds / HopSeconds;
        if (to - from >= 1) (from, to) = (OnGrid(from), OnGrid(to));
        var sum = Sum(Math.Clamp(from, 0, _hops.Length), Math.Clamp(to, 0, _hops.Length));
        return sum / ((toSeconds - fromSeconds) / HopSeconds);
    }

    /// <summary>Mean energy of whole hops, full scale 1; 0 in silence.</summary>
    /// <param name="from">The first hop; may lie before 0.</param>
    /// <param name="to">The one after the last; after <paramref name="from"/>, and perhaps past the end.</param>
    /// <exception cref="ArgumentOutOfRangeException">The span is empty or runs backwards.</exception>
    public double HopsMeanSquare(int from, int to)
    {
        ArgumentOutOfRangeException.ThrowIfLessThanOrEqual(to, from);
        var (a, b) = (Math.Clamp(from, 0, _hops.Length), Math.Clamp(to, 0, _hops.Length));
        // A single hop has no digits to lose.
        var sum = b - a == 1 ? _hops[a] : Math.Max(0, (_sums[b] - _sums[a]) + (_lost[b] - _lost[a]));
        return sum / (to - from);
    }

    // 0.29 / 0.01 is a hair less than 29, and the hop before must not leak into a silence that begins there.
    private static double OnGrid(double hops)
    {
        var near = Math.Round(hops);
        return Math.Abs(hops - near) < 1e-9 ? near : hops;
    }

    // Whole hops by their running sums, the hops at both ends by their share.
    private double Sum(double first, double last)
    {
        int a = (int)first, b = (int)last;
        if (a == b) return a < _hops.Length ? _hops[a] * (last - first) : 0;
        var whole = (_sums[b] - _sums[a + 1]) + (_lost[b] - _lost[a + 1]);
        var tail = b < _hops.Length ? _hops[b] * (last - b) : 0;
        return _hops[a] * (a + 1 - first) + Math.Max(0, whole) + tail;
    }
}
