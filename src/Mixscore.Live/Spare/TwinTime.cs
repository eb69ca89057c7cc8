namespace Mixscore.Live;

/// <summary>
/// Lays another machine's time on ours by when its messages come: whatever the network adds, the quickest messages tell how far the two
/// are apart. What they all take is not known, and taken for nothing; in a hall it is far less than a tick. Follows machines whose clocks
/// drift apart by up to <see cref="Drift"/>, and begins anew when the other does.
/// </summary>
internal sealed class TwinTime
{
    /// <summary>Seconds a second: 200 parts in a million, twice what quartz clocks differ by at most; common practice, no source.</summary>
    internal const double Drift = 200e-6;

    private static readonly TimeSpan Anew = TimeSpan.FromSeconds(2);
    private long _id;
    private TimeSpan _apart;
    private TimeSpan? _last;

    /// <summary>When something was so, on our time.</summary>
    /// <param name="id">Whose message.</param>
    /// <param name="sent">When it was so, on the other's time.</param>
    /// <param name="received">When it came, on ours.</param>
    internal TimeSpan Ours(long id, TimeSpan sent, TimeSpan received)
    {
        var apart = received - sent;
        if (_last is not { } last || id != _id || apart - _apart > Anew) (_apart, _id) = (apart, id);
        else
        {
            var drifted = _apart + TimeSpan.FromSeconds((received - last).TotalSeconds * Drift);
            _apart = apart < drifted ? apart : drifted;
        }
        _last = received;
        return sent + _apart;
    }
}
