using Mixscore.Desk;
using Mixscore.Loudness;

namespace Mixscore.Live;

/// <summary>Sends values to a desk, all of a tick at once.</summary>
/// <returns>False when some could not be sent.</returns>
public delegate bool DeskSend(ReadOnlySpan<StripValue> values);

/// <summary>
/// One desk of a run: where its faders are, as it says itself and as they were sent, and how they glide to where the run
/// wants them. A fader that a hand holds is left alone. Used by the run's thread alone; allocates nothing after it is made.
/// </summary>
public sealed class RunDesk
{
    // Our own figures: how often a strip is sent anew that has not changed, since a datagram may have been lost; how long a
    // desk that comes back is listened to before it is spoken to; after how much silence it counts as having been away.
    private const int RefreshTicks = 50;
    private static readonly TimeSpan Settles = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan Silence = TimeSpan.FromSeconds(2);
    private static readonly TimeSpan BetweenMeters = TimeSpan.FromMilliseconds(400);
    private static readonly TimeSpan BetweenAnswers = (RefreshTicks * RunSettings.Tick) + EchoMemory.Latest;
    private static readonly TimeSpan[] AfterMove = [TimeSpan.FromMilliseconds(120), TimeSpan.FromMilliseconds(360)];
    private static readonly TimeSpan Alive = TimeSpan.FromMilliseconds(300);
    private const int StubbornTries = 3;
    private const double StubbornDb = 1;

    private readonly DeskSend _send;
    private readonly int[] _sourceOf = new int[StripsKnown + 1];
    private readonly Fader[] _faders;
    private readonly StripValue[] _values;
    private readonly double _nearness;
    private TimeSpan? _lastHeard;
    private TimeSpan _settlesUntil;
    private bool _isOpen = true;
    private bool _speaksOften;
    private bool _isMetered;
    private int _next;
    private int _asks;

    /// <summary>The highest strip that is looked at.</summary>
    private const int StripsKnown = 256;

    /// <summary>A desk.</summary>
    /// <param name="map">How it is addressed.</param>
    /// <param name="strips">The strip of each source of the run; 0 where the desk does not carry it.</param>
    /// <param name="send">Sends values; must not block for longer than a tick can wait.</param>
    /// <param name="isController">Whether it is a controller's faders, which carry no sound: they follow whether armed or not, and take a
    /// source only when they meet it where it is.</param>
    public RunDesk(DeskMap map, IReadOnlyList<int> strips, DeskSend send, bool isController = false)
    {
        (Map, _send, IsController) = (map, send, isController);
        Array.Fill(_sourceOf, -1);
        _faders = [.. strips.Select(_ => new Fader())];
        _values = new StripValue[strips.Count];
        for (var i = 0; i < strips.Count; i++)
        {
            _faders[i].Strip = strips[i];
            if (strips[i] > 0) _sourceOf[strips[i]] = i;
        }
        var law = map.Fader.Law;
        _nearness = (Math.Abs(law.ToValue(law.Highest) - law.Off) / 250) + (law.Number == WireNumber.Whole ? 0.5 : 0);
    }

    /// <summary>How it is addressed.</summary>
    public DeskMap Map { get; }

    /// <summary>Whether it is a controller's faders.</summary>
    public bool IsController { get; }

    /// <summary>Ticks in which something could not be sent.</summary>
    public long Unsent { get; private set; }

    /// <summary>The lowest gain at which the desk's meter, taken after the fader, still tells that a feed is back; <c>null</c>
    /// without a meter, so that nothing keeps a fader from shutting. Our own figures.</summary>
    internal Decibels? ListensAt => Map.Meter is { } meter ? Decibels.Of(Math.Min(-40, meter.Law.Lowest.Value + 40)) : null;

    /// <summary>The source of a strip; −1 for none.</summary>
    internal int SourceOf(int strip) => strip is > 0 and <= StripsKnown ? _sourceOf[strip] : -1;

    /// <summary>Where the desk's own fader of a source is, as far as it has said or was told; <c>null</c> is off or not known.</summary>
    internal Decibels? GainOf(int source) => _faders[source].Out;

    /// <summary>Whether the desk has said where a source's fader is.</summary>
    internal bool HasReported(int source) => _faders[source].Reported is not null;

    /// <summary>Whether the desk carries a source.</summary>
    internal bool Carries(int source) => _faders[source].Strip > 0;

    /// <summary>Takes what the desk says of a fader.</summary>
    /// <param name="source">Whose.</param>
    /// <param name="value">On the wire.</param>
    /// <param name="now">The run's time.</param>
    /// <param name="isArmed">Whether the run moves faders; before, none of its moves can be a hand's.</param>
    /// <param name="isHeld">Whether a hand is on this very fader.</param>
    /// <returns>Whether a hand moved it.</returns>
    internal bool Hears(int source, double value, TimeSpan now, bool isArmed, bool isHeld)
    {
        Heard(now);
        var fader = _faders[source];
        (fader.Reported, fader.Awaited, IsWitness) = (value, null, true);
        if (!isArmed || now < _settlesUntil || fader.SentValue is null)
        {
            fader.Out = Map.Fader.Law.ToGain(value);
            return false;
        }
        if (fader.Echoes.IsEcho(value, _nearness, now, isOnTheWay: !isHeld, out var wasSentAnew))
        {
            _speaksOften |= wasSentAnew;
            return false;
        }
        fader.Out = Map.Fader.Law.ToGain(value);
        // The hand has put it there: that is what it was last told.
        (fader.SentValue, fader.SentAt, fader.Tries) = (value, now, 0);
        return true;
    }

    /// <summary>Notes that the desk is there. One that never rests, since it sends meters or answers whatever it is sent, was away when it
    /// was silent for long; of one that speaks only when a fader moves silence tells nothing.</summary>
    internal void Heard(TimeSpan now)
    {
        if (IsUnheardOf(now)) Await();
        if (IsAway(now)) BeginAnew(now);
        _lastHeard = now;
    }

    /// <summary>Notes a meter.</summary>
    internal void Metered(TimeSpan now)
    {
        Heard(now);
        _speaksOften = _isMetered = true;
    }

    /// <summary>The wire is open, or no longer.</summary>
    internal void Wire(bool isOpen, TimeSpan now)
    {
        if (isOpen && !_isOpen) BeginAnew(now);
        _isOpen = isOpen;
    }

    /// <summary>Whether a fader that no move of ours reaches must be in somebody's hand: it says again and again that it
    /// stands elsewhere, while the desk hears us.</summary>
    internal bool IsStubborn(int source, TimeSpan now)
    {
        var fader = _faders[source];
        if (fader.Tries < StubbornTries || _lastHeard is not { } heard || now - heard > Alive || fader.Awaited is not null || fader.Reported is not { } reported || fader.SentValue is not { } last || now - fader.SentAt < EchoMemory.Latest) return false;
        var (stands, sent) = (Map.Fader.Law.ToGain(reported), Map.Fader.Law.ToGain(last));
        var bottom = Map.Fader.Law.Lowest.Value;
        return Math.Abs(reported - last) > 2 * _nearness && Math.Abs((stands?.Value ?? bottom) - (sent?.Value ?? bottom)) > StubbornDb;
    }

    /// <summary>Where the desk says that a fader is.</summary>
    internal Decibels? ReportedGain(int source) => _faders[source].Reported is { } value ? Map.Fader.Law.ToGain(value) : null;

    /// <summary>From now on nothing of what was sent counts: the run was disarmed.</summary>
    internal void Forget()
    {
        foreach (var fader in _faders)
        {
            fader.SentValue = null;
            fader.Echoes.Clear();
        }
    }

    /// <summary>For how long nothing has been heard of it; <c>null</c> when nothing ever was.</summary>
    internal TimeSpan? Unheard(TimeSpan now) => now - _lastHeard;

    /// <summary>Whether it has been silent for longer than it ever is: it sends meters, or answers whatever it is sent.</summary>
    internal bool IsUnheardOf(TimeSpan now) => _speaksOften && Unheard(now) > (_isMetered ? BetweenMeters : BetweenAnswers);

    /// <summary>Whether it says of itself where its faders are, so that it can witness who moves them.</summary>
    internal bool IsWitness { get; private set; }

    /// <summary>Puts a fader where another run has it.</summary>
    internal void Place(int source, Decibels? gain, bool isHeld) => (_faders[source].Out, _faders[source].IsHeld) = (gain, isHeld);

    /// <summary>Notes where another run says that it has a fader.</summary>
    internal void Left(int source, Decibels? gain) => _faders[source].Left = gain;

    /// <summary>From now on another may move it.</summary>
    internal void StepBack()
    {
        foreach (var fader in _faders) fader.Left = fader.Out;
    }

    /// <summary>Takes what the desk says of a fader that another run moves.</summary>
    /// <returns>Who moved it.</returns>
    internal Mover HearsOther(int source, double value, TimeSpan now)
    {
        Heard(now);
        var fader = _faders[source];
        var before = fader.Reported;
        (fader.Reported, fader.Awaited, IsWitness) = (value, null, true);
        if (fader.SentValue is null) fader.Out = Map.Fader.Law.ToGain(value);
        if (value == before || fader.SentValue is null) return Mover.Nobody;
        var isEcho = fader.Echoes.IsEcho(value, _nearness, now, isOnTheWay: true, out _);
        // Only one that was where the plan wants it can have been taken from there: one that was elsewhere is being brought back.
        var isHand = !isEcho && (fader.IsHeld || fader.WentAlong);
        fader.WentAlong = isEcho;
        return isHand ? Mover.Hand : Mover.Other;
    }

    /// <summary>Whether a fader does not stand where one that moves it would have it.</summary>
    internal bool IsBehind(int source) =>
        _faders[source] is { IsHeld: false, Reported: { } reported, SentValue: { } sent } fader && Math.Abs((fader.Awaited ?? reported) - sent) > _nearness;

    // What it said before it was silent may stand no longer: another may have moved all as the plan wants, and it need not say so again.
    private void Await()
    {
        foreach (var fader in _faders) (fader.Awaited, fader.WentAlong) = (fader.SentValue, false);
    }

    /// <summary>Asks the desk for a sign of life without moving anything: it is told of a fader that stands still what it said of it last.</summary>
    internal void Ask()
    {
        for (var tries = 0; tries < _faders.Length; tries++)
        {
            var i = _asks++ % _faders.Length;
            if (_faders[i] is not { Strip: > 0, IsHeld: false, Awaited: null, Reported: { } value } || IsBehind(i)) continue;
            _values[0] = new StripValue(_faders[i].Strip, StripPart.Fader, value);
            if (!_send(_values.AsSpan(0, 1))) Unsent++;
            return;
        }
    }

    /// <summary>From now on this run moves it: from where it says that its faders are, and where it has not said so from where the other
    /// run had them.</summary>
    internal void TakeOver()
    {
        for (var i = 0; i < _faders.Length; i++)
        {
            var fader = _faders[i];
            fader.Tries = 0;
            // What was said before a silence is older than what the other said since.
            var isFresh = fader.Reported is not null && fader.Awaited is null;
            if (isFresh && !IsBehind(i)) continue;
            (fader.Out, fader.SentValue) = (isFresh ? ReportedGain(i) : fader.Left, null);
        }
    }

    /// <summary>One fader's way in a tick.</summary>
    /// <param name="source">Whose.</param>
    /// <param name="wanted">Where the run wants it.</param>
    /// <param name="bottom">The bottom of the plan's range.</param>
    /// <param name="most">The longest way of this tick, in dB.</param>
    /// <param name="isHeld">Whether a hand is on this very fader.</param>
    /// <param name="now">The run's time.</param>
    internal void Step(int source, Decibels? wanted, Decibels bottom, double most, bool isHeld, TimeSpan now)
    {
        var fader = _faders[source];
        // What cannot be sent yet must not run ahead, or the first thing sent would be a leap.
        if (!isHeld && IsSpokenTo(now)) fader.Out = Glide.Step(fader.Out, wanted, bottom, most);
        fader.IsHeld = isHeld;
    }

    /// <summary>Sends what has changed, and now and then what has not.</summary>
    /// <param name="now">The run's time.</param>
    /// <param name="isInMind">Whether it is only noted as sent, by a run that follows another which sends it.</param>
    internal void Send(TimeSpan now, bool isInMind = false)
    {
        if (!IsSpokenTo(now)) return;
        var count = 0;
        // A desk that has fallen silent may come back with its faders elsewhere; it is heard first, unless the plan moves.
        var isAway = IsAway(now);
        // So spread that each strip comes round once in RefreshTicks, and several a tick where there are more strips than that.
        var from = _next % RefreshTicks;
        _next++;
        for (var i = 0; i < _faders.Length; i++)
        {
            var fader = _faders[i];
            if (fader.Strip == 0 || fader.IsHeld) continue;
            var value = Map.Fader.Law.Sent(fader.Out);
            var isNew = value != fader.SentValue;
            if (isNew) (fader.SentValue, fader.SentAt, fader.Tries) = (value, now, 0);
            else if (isAway) continue;
            else if (fader.Tries < AfterMove.Length && now - fader.SentAt >= AfterMove[fader.Tries]) fader.Tries++;
            else if (i % RefreshTicks == from) fader.Tries++;
            else continue;
            fader.Echoes.Sent(value, now, !isNew);
            _values[count++] = new StripValue(fader.Strip, StripPart.Fader, value);
        }
        if (count > 0 && !isInMind && !_send(_values.AsSpan(0, count))) Unsent++;
    }

    private bool IsAway(TimeSpan now) => _speaksOften && _lastHeard is { } last && now - last > Silence;

    private bool IsSpokenTo(TimeSpan now) => _isOpen && now >= _settlesUntil;

    private void BeginAnew(TimeSpan now)
    {
        _settlesUntil = now + Settles;
        Forget();
    }

    private sealed class Fader
    {
        internal int Strip { get; set; }

        internal Decibels? Out { get; set; }

        /// <summary>Where another run had it when that was last heard.</summary>
        internal Decibels? Left { get; set; }

        internal double? Reported { get; set; }

        /// <summary>Where it stands by now, if another moves it; <c>null</c> where the desk has said so itself.</summary>
        internal double? Awaited { get; set; }

        /// <summary>Whether it was last said to be where the plan wants it.</summary>
        internal bool WentAlong { get; set; }

        internal double? SentValue { get; set; }

        internal TimeSpan SentAt { get; set; }

        internal int Tries { get; set; }

        internal bool IsHeld { get; set; }

        internal EchoMemory Echoes { get; } = new();
    }
}
