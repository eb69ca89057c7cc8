namespace Mixscore.Audio;

/// <summary>
/// Where a mono stem stands between the loudspeakers, by constant power: the two gains' squares add up to 1, −3.01 dB each
/// in the centre, so that it is as loud in the mix as it measures alone. <c>default</c> is the centre.
/// </summary>
public readonly record struct Pan
{
    private Pan(double position) => Position = position;

    /// <summary>The centre.</summary>
    public static Pan Centre => default;

    /// <summary>−1 left, 0 centre, 1 right.</summary>
    public double Position { get; }

    /// <summary>The amplitude gain to the left.</summary>
    public double Left => Math.Sin((1 - Position) * Math.PI / 4);

    /// <summary>The amplitude gain to the right.</summary>
    public double Right => Math.Sin((1 + Position) * Math.PI / 4);

    /// <summary>A place between the loudspeakers.</summary>
    /// <param name="position">−1 left to 1 right.</param>
    /// <exception cref="ArgumentOutOfRangeException">It lies outside.</exception>
    public static Pan Of(double position) => position is >= -1 and <= 1
        ? new Pan(position)
        : throw new ArgumentOutOfRangeException(nameof(position), position, "a place between the loudspeakers lies from -1 to 1");

    /// <summary>Where the nth of several sites stands: spread evenly from left to right, one alone in the centre.</summary>
    /// <param name="site">From 0, in the order of the plan.</param>
    /// <param name="sites">How many there are.</param>
    /// <remarks>The outermost stand at ±0.7, so that no site is lost to a listener beside the other loudspeaker. Common practice, no source.</remarks>
    public static Pan OfSite(int site, int sites)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(site);
        ArgumentOutOfRangeException.ThrowIfGreaterThanOrEqual(site, sites);
        const double Outermost = 0.7;
        return sites == 1 ? Centre : Of(Outermost * (2.0 * site / (sites - 1) - 1));
    }
}
