namespace Mixscore.Loudness;

/// <summary>
/// A true peak that some part of a sound is known to have. For several threads at once without a lock: where two raise it together
/// the lower one may stay, which is true as well and costs no more than work.
/// </summary>
internal sealed class KnownPeak
{
    public float Peak { get; private set; }

    public void Raise(float peak)
    {
        if (peak > Peak) Peak = peak;
    }
}
