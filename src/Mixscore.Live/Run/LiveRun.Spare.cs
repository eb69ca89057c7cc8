using Mixscore.Score;

namespace Mixscore.Live;

/// <content>
/// Two runs of one plan: one performs, the other follows and is its spare. The one that follows takes what the other says of itself, moves
/// its own faders in mind, and watches the desk: where the other falls silent, and the desk answers but no longer does what the plan
/// wants, nobody moves it any more, and the spare takes over. Where the desk goes on doing what the plan wants, the other is only not
/// heard. So two never fight; at worst nobody moves the faders for a moment.
/// </content>
public sealed partial class LiveRun
{
    // Our own figures, but for the first, which the design names.
    private static readonly TimeSpan Silent = TimeSpan.FromMilliseconds(500);
    private static readonly TimeSpan Led = TimeSpan.FromMilliseconds(150);
    private static readonly TimeSpan AsksFrom = TimeSpan.FromMilliseconds(300);
    private static readonly TimeSpan AsksEvery = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan HeardLonger = TimeSpan.FromMilliseconds(100);
    private static readonly TimeSpan Unheard = TimeSpan.FromMilliseconds(250);
    private static readonly TimeSpan CutOff = TimeSpan.FromMilliseconds(400);

    // Longer than it takes one that is cut off to step back.
    private static readonly TimeSpan StandsFor = CutOff + TimeSpan.FromMilliseconds(50);
    private static readonly TimeSpan CodeStands = TimeSpan.FromSeconds(1);
    private const double MuchTime = 1000;
    private const double SameClock = 0.25;
    private const double Nudge = 0.1;

    private SpareRole _role;
    private int _term;
    private TimeSpan? _otherHeard;
    private TimeSpan _otherMoved = TimeSpan.MinValue;
    private TimeSpan _codeHeard = TimeSpan.MinValue;
    private TimeSpan _otherDeskSilent;
    private TimeSpan? _behindSince;
    private TimeSpan _asked;
    private bool _steppedBack;
    private TimeSpan? _rivalHeard;
    private bool _standsIn;

    private bool Follows => _role == SpareRole.Follows;

    // Whether what this run does is what the other just said.
    private bool IsLed => Follows && OtherSilent < Led;

    private TimeSpan OtherSilent => _now - (_otherHeard ?? TimeSpan.Zero);

    private SpareView SpareNow => new(_role, _term, _otherHeard is not null, _otherHeard is null ? TimeSpan.Zero : OtherSilent, _standsIn, _otherDeskSilent);

    private TimeSpan DeskSilent
    {
        get
        {
            TimeSpan? least = null;
            foreach (var desk in _desks)
                if (!desk.IsController && desk.Unheard(_now) is { } unheard && (least is null || unheard < least)) least = unheard;
            return least ?? TimeSpan.Zero;
        }
    }

    // How long a fader must not follow before this run moves it. Two that come back at once must not come forward at once: one that stepped
    // back waits longer than a spare, and of two that did so the one that knows less of late, which is in the earlier term.
    private TimeSpan Patience => StandsFor
        + (_steppedBack ? Silent : TimeSpan.Zero)
        + (_steppedBack && _term % 2 == 0 ? Unheard : TimeSpan.Zero)
        + (_rivalHeard is { } heard && _now - heard < Silent ? Silent * 2 : TimeSpan.Zero);

    private void BeginToFollow(TimeSpan? stepsBack = null)
    {
        (_role, _otherHeard, _steppedBack) = (SpareRole.Follows, stepsBack, stepsBack is not null);
        foreach (var desk in _desks) desk.StepBack();
        Tell(new LogEntry(LogKind.Spare, _now, new Seconds(Score)) { Text = Words.Of(_role) });
    }

    private static bool IsOrder(RunEventKind kind) => kind is not (RunEventKind.Desk or RunEventKind.Wire or RunEventKind.Clock or RunEventKind.Twin or RunEventKind.TakeOver or RunEventKind.Note);

    // A spare obeys nobody while the other performs; where that is silent, an order is a reason to perform.
    private bool MayOrder()
    {
        if (_standsIn) TakeOver();
        else Tell(new LogEntry(LogKind.Trouble, _now, new Seconds(Score)) { Text = "this is the spare, and follows; give orders to the run that performs, or take over first" });
        return !Follows;
    }

    private void Take(TwinState other)
    {
        if (other.PlanKey != _settings.PlanKey || other.Id == _settings.Id) return;
        if (!Follows && _otherHeard is null && !other.IsPerforming) Tell(new LogEntry(LogKind.Spare, _now, new Seconds(Score)) { Text = "there" });
        if (!other.IsPerforming)
        {
            if (!Follows) _otherHeard = _now;
            else if (other.Term > _term) _rivalHeard = _now;
            return;
        }
        if (!Follows)
        {
            // Of two that perform, the one that took over last goes on.
            if ((other.Term, other.Id).CompareTo((_term, _settings.Id)) <= 0) return;
            foreach (var desk in _desks) desk.Forget();
            BeginToFollow();
        }
        (_term, _otherHeard, _otherDeskSilent, _standsIn, _behindSince, _steppedBack) = (other.Term, _now, other.DeskSilent, false, null, false);
        if (other.IsArmed != _isArmed) Arm(other.IsArmed);
        FollowPlace(other);
        for (var i = 0; i < other.Sources.Count && other.First + i < _faders.Length; i++) FollowSource(other.First + i, other.Sources[i]);
    }

    private void FollowPlace(TwinState other)
    {
        if (other.Phase == RunPhase.Running) FollowClock(other);
        else if (_phase == RunPhase.Running && other.Phase == RunPhase.Stopped) Stop();
        if (other.Phase != RunPhase.Running)
        {
            (_phase, _startAt) = (other.Phase, other.StartAt.Value);
            return;
        }
        if (_head.Stay == other.Stay && Math.Abs((_head.Apart - other.Apart).Value) < 1e-6 && _head.JumpsTo == other.JumpsTo) return;
        var (stayed, apart) = (_head.Stay, _head.Apart);
        _head.Restore(other.Apart, other.Stay, other.At, other.JumpsTo);
        TellPlace(stayed, apart);
    }

    private void TellPlace(StayKind stayed, Seconds apart)
    {
        var at = new Seconds(Score);
        if (_head.Stay != StayKind.None && _head.Stay != stayed) Tell(new LogEntry(LogKind.Stay, _now, at) { Text = _head.Stay == StayKind.Hold ? "still" : "bar", Number = _head.Apart.Value });
        else if (_head.Stay == StayKind.None && stayed != StayKind.None) Tell(new LogEntry(LogKind.Release, _now, at) { Number = _head.Apart.Value });
        else if (_head.Apart != apart) Tell(new LogEntry(LogKind.Turn, _now, at) { Number = _head.Apart.Value });
        if (_head.JumpsTo is { } to) Tell(new LogEntry(LogKind.Jump, _now, at) { Number = to.Value });
    }

    private void FollowClock(TwinState other)
    {
        var moves = other.ClockState is ClockState.Running or ClockState.Carrying;
        var clock = other.Clock + new Seconds(moves ? other.Rate * (_now - other.When).TotalSeconds : 0);
        if (_phase != RunPhase.Running || (!_clock.IsOutside && Math.Abs((clock - _clock.Read(_now).At).Value) > SameClock))
        {
            (_startAt, _phase, _nextPosition) = (other.StartAt.Value, RunPhase.Running, _now);
            _clock.Start(clock, Seconds.Zero, _now);
            _reading = _clock.Read(_now);
            _head.Reset(clock);
            Tell(new LogEntry(LogKind.Start, _now, other.StartAt) { Number = clock.Value });
        }
        _startAt = other.StartAt.Value;
        if (!_clock.IsOutside)
        {
            // Two machines' clocks drift apart by a hair; ours is led after the other's, so that nothing leaps.
            var apart = clock - _clock.Read(_now).At;
            _clock.Start(_clock.Read(_now).At + new Seconds(apart.Value * Nudge), Seconds.Zero, _now);
        }
        else if (_now - CodeStands > _codeHeard && moves)
            _clock.Take(new ClockPoint(_now, clock, ClockSignal.Moving));
        _reading = _clock.Read(_now);
    }

    private void FollowSource(int i, in TwinSource other)
    {
        var fader = _faders[i];
        var (holder, hand, offset, gone) = (fader.Holder, fader.Hand, fader.Offset, fader.Gone);
        fader.Follow(other, _desks.Length, _now);
        foreach (var desk in _desks) desk.Left(i, other.Gain);
        if (other.Gone == DropCause.Told != (gone == DropCause.Told)) _links[i].Tell(other.Gone != DropCause.Told);
        var at = new Seconds(Score);
        if (fader.Holder == Holder.InHand && (holder != Holder.InHand || fader.Hand != hand))
        {
            var kind = holder == Holder.InHand ? LogKind.Hand : LogKind.Take;
            Tell(new LogEntry(kind, _now, at) { Index = i, HasGain = true, Gain = fader.Hand, Text = fader.HandDesk is null ? null : "desk" });
        }
        else if (fader.Holder != holder && holder == Holder.InHand) Tell(LogKind.Back, i, fader.Gain);
        else if (fader.Holder != holder) Tell(LogKind.Planned, i, fader.Gain);
        if (fader.Offset != offset) Tell(LogKind.Offset, i, fader.Offset);
        if (fader.Gone is { } cause && gone is null) Tell(new LogEntry(LogKind.Drop, _now, at) { Index = i, Text = Words.Of(cause) });
        else if (fader.Gone is null && gone is not null) Tell(LogKind.Up, i, fader.Gain);
    }

    private void HearOther(int i, int d, double value)
    {
        var desk = _desks[d];
        var mover = desk.HearsOther(i, value, _now);
        if (mover == Mover.Other) _otherMoved = _now;
        // Where nobody else takes note of a hand, this one does.
        else if (mover == Mover.Hand && _isArmed && OtherSilent > Led && _otherHeard is not null) TakeFromDesk(i, d, desk.Map.Fader.Law.ToGain(value));
    }

    // What would be sent is noted as sent, so that the desk's reports can be told from a hand's, and nothing leaps when it is sent in truth.
    private void StepInMind(int d)
    {
        var desk = _desks[d];
        for (var i = 0; i < _faders.Length; i++)
            if (desk.Carries(i)) desk.Place(i, _faders[i].Gain, _faders[i].HandDesk == d);
        desk.Send(_now, isInMind: true);
    }

    private void StepSpare()
    {
        StepBackWhenCutOff();
        // One that never heard the other has no state to go on with.
        if (!Follows || _otherHeard is null) return;
        var silent = OtherSilent;
        var (answers, isWitness, isBehind) = LookAtDesks(silent);
        _standsIn = silent >= Silent && (answers || !_isArmed);
        _behindSince = isBehind ? _behindSince ?? _now : null;
        if (!_standsIn || !_isArmed) return;
        var nobodyMoves = _behindSince is { } since && _now - since >= Patience && _now - StandsFor >= _otherMoved;
        if (nobodyMoves || (!isWitness && silent >= Silent + Patience - StandsFor)) TakeOver();
    }

    // Whether one answers, whether one says where its faders are, and whether a fader stands elsewhere than it would if it were moved.
    private (bool Answers, bool IsWitness, bool IsBehind) LookAtDesks(TimeSpan silent)
    {
        var (answers, isWitness, isBehind) = (false, false, false);
        var mayAsk = _isArmed && silent >= AsksFrom && _now - _asked >= AsksEvery;
        if (mayAsk) _asked = _now;
        foreach (var desk in _desks)
        {
            if (desk.IsController) continue;
            var unheard = desk.Unheard(_now);
            // Heard later than the other: what was cut off from both at once heard neither.
            var isThere = unheard + HeardLonger < silent;
            answers |= isThere;
            isWitness |= desk.IsWitness;
            if (mayAsk && unheard > Unheard) desk.Ask();
            for (var i = 0; i < _faders.Length && !isBehind; i++) isBehind = (isThere || silent < Silent) && desk.Carries(i) && desk.IsBehind(i);
        }
        return (answers, isWitness, isBehind);
    }

    private void TakeOver()
    {
        if (!Follows) return;
        (_role, _standsIn, _behindSince, _steppedBack) = (SpareRole.Performs, false, null, false);
        _term++;
        foreach (var desk in _desks) desk.TakeOver();
        Tell(new LogEntry(LogKind.Spare, _now, new Seconds(Score)) { Text = Words.Of(_role) });
        for (var i = 0; i < _faders.Length; i++)
            if (_links[i].Gone is not null != _faders[i].IsDropped) Linked(i, _links[i].Gone, _faders[i].Gone);
    }

    // One that knows of another, and hears neither that nor any desk, is cut off: the other may be performing. It steps back, and comes
    // forward again, as any spare does, when the desk is there and nobody moves it.
    private void StepBackWhenCutOff()
    {
        if (Follows || !_isArmed || _otherHeard is null || OtherSilent < CutOff) return;
        foreach (var desk in _desks)
            if (!desk.IsController && !desk.IsUnheardOf(_now)) return;
        BeginToFollow(_now);
    }

    // A machine that stood still for a while does not know what has become of its role, nor of the other's.
    private void StepBackAfterGap(TimeSpan now)
    {
        if (!_hasTicked || _otherHeard is null || now - _now < CutOff) return;
        if (Follows) _otherHeard = now;
        else if (_isArmed) BeginToFollow(now);
    }
}
