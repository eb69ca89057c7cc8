using Mixscore.Loudness;

namespace Mixscore.Live;

/// <summary>Why a feed counts as gone.</summary>
public enum DropCause
{
    /// <summary>Nothing is heard where something should be.</summary>
    Silent,

    /// <summary>It is far louder than it ever was.</summary>
    Noise,

    /// <summary>Its site was said to be gone.</summary>
    Told,
}

/// <summary>
/// Watches one source's meter. Gone: nothing for a second while the plan awaits it. Noise: far louder than before for a fifth of
/// a second. Back: at its usual level for a second. What the meter shows is after the fader, so the fader is taken out.
/// The figures are our own.
/// </summary>
internal sealed class LinkWatch
{
    private const double Nothing = -60;
    private const double Something = -50;
    private const double Burst = 12;
    private const double Forgets = 1.0 / 60;   // dB a second
    private const double LowestFader = -50;     // under that a meter tells nothing of the feed
    private static readonly TimeSpan SilentFor = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan NoisyFor = TimeSpan.FromMilliseconds(200);
    private static readonly TimeSpan BackFor = TimeSpan.FromSeconds(1);
    private static readonly TimeSpan Stale = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan LearnsFor = TimeSpan.FromSeconds(5);

    private double _feed = double.NegativeInfinity;
    private TimeSpan? _heard;
    private double _loudest = double.NegativeInfinity;
    private TimeSpan _learned;
    private TimeSpan? _silentSince;
    private TimeSpan? _noisySince;
    private TimeSpan? _goodSince;
    private TimeSpan _last;
    private bool _isTold;

    /// <summary>Why it is gone; <c>null</c> while it is there.</summary>
    internal DropCause? Gone { get; private set; }

    /// <summary>The level of the last meter; <c>null</c> for none.</summary>
    internal Decibels? Meter { get; private set; }

    /// <summary>A meter has come.</summary>
    internal void Level(Decibels? level, Decibels? fader, TimeSpan now)
    {
        Meter = level;
        if (fader is not { } gain || gain.Value < LowestFader)
        {
            _heard = null;
            return;
        }
        _feed = level is { } heard ? heard.Value - gain.Value : double.NegativeInfinity;
        _heard = now;
    }

    /// <summary>Its site was said to be there, or gone.</summary>
    internal void Tell(bool isUp)
    {
        _isTold = !isUp;
        // What is said to be there is given a second anew to be heard.
        (Gone, _silentSince) = (isUp ? null : DropCause.Told, null);
    }

    /// <summary>A tick.</summary>
    /// <param name="isAwaited">Whether the plan awaits it: it plays, and its fader is open.</param>
    /// <param name="now">The run's time.</param>
    internal void Step(bool isAwaited, TimeSpan now)
    {
        var elapsed = now - _last;
        _last = now;
        if (_isTold || _heard is not { } heard || now - heard > Stale)
        {
            (_silentSince, _noisySince, _goodSince) = (null, null, null);
            return;
        }
        _silentSince = isAwaited && _feed < Nothing ? _silentSince ?? now : null;
        var isNoise = _learned >= LearnsFor && _feed > _loudest + Burst;
        _noisySince = isNoise ? _noisySince ?? now : null;
        _goodSince = _feed > Something && !isNoise ? _goodSince ?? now : null;
        if (Gone is null)
        {
            if (_silentSince is { } silent && now - silent >= SilentFor) Gone = DropCause.Silent;
            else if (_noisySince is { } noisy && now - noisy >= NoisyFor) Gone = DropCause.Noise;
            else if (!isNoise && _feed > Something) Learn(elapsed);
        }
        else if (_goodSince is { } good && now - good >= BackFor) Gone = null;
    }

    private void Learn(TimeSpan elapsed)
    {
        _learned += elapsed;
        _loudest = Math.Max(_feed, _loudest - (Forgets * elapsed.TotalSeconds));
    }
}
