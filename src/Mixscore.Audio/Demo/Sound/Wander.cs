namespace Mixscore.Audio;

/// <summary>
/// A slow random walk that is drawn back to 0, as a player's loudness or a gust is: after Ornstein and Uhlenbeck, with
/// the given spread and the time after which it has forgotten where it was.
/// </summary>
internal sealed class Wander(SeededNoise noise, double spread, double seconds)
{
    private double _at = spread * noise.Normal();

    /// <summary>Goes on by a time that is short against its own.</summary>
    internal double Next(double step)
    {
        _at += -_at * step / seconds + spread * Math.Sqrt(2 * step / seconds) * noise.Normal();
        return _at;
    }
}
