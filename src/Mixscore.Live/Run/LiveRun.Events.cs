using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

public sealed partial class LiveRun
{
    /// <summary>How near a controller's fader is taken to meet a source's, in dB; our own figure.</summary>
    private const double PickUp = 1;

    private void Take(in RunEvent posted)
    {
        if (Follows && IsOrder(posted.Kind) && !MayOrder()) return;
        switch (posted.Kind)
        {
            case RunEventKind.Desk: Hear(posted.Index, posted.Value); break;
            case RunEventKind.Wire: Wire(posted.Index, posted.Is); break;
            case RunEventKind.Clock:
                _codeHeard = _now;
                _clock.Take(posted.Point);
                break;
            case RunEventKind.Twin: Take(posted.Other!); break;
            case RunEventKind.TakeOver: TakeOver(); break;
            case RunEventKind.Start: Start(posted.At); break;
            case RunEventKind.Stop: Stop(); break;
            case RunEventKind.Stay: Stay(posted.Is); break;
            case RunEventKind.Release: Release(); break;
            case RunEventKind.Jump: Jump(posted.At!.Value); break;
            case RunEventKind.Take: Take(posted.Index, posted.Gain, null); break;
            case RunEventKind.Move: Move(posted.Index, posted.Gain!.Value); break;
            case RunEventKind.Back: Back(posted.Index, posted.Beats); break;
            case RunEventKind.Offset: Offset(posted.Index, posted.Gain!.Value); break;
            case RunEventKind.HoldAll: HoldAll(); break;
            case RunEventKind.AllBack: AllBack(posted.Beats); break;
            case RunEventKind.Arm: Arm(true); break;
            case RunEventKind.Disarm: Arm(false); break;
            case RunEventKind.Link: _links[posted.Index].Tell(posted.Is); LinkTold(posted.Index, posted.Is); break;
            case RunEventKind.Note: Tell(new LogEntry(LogKind.Mark, _now, new Seconds(Score)) { Text = posted.Text }); break;
        }
    }

    private void Hear(int d, StripValue value)
    {
        var desk = _desks[d];
        var i = desk.SourceOf(value.Strip);
        if (i < 0) return;
        switch (value.Part)
        {
            case StripPart.Meter when desk.Map.Meter is { } meter:
                desk.Metered(_now);
                _links[i].Level(meter.Law.ToGain(value.Value), Follows && desk.HasReported(i) ? desk.ReportedGain(i) : desk.GainOf(i), _now);
                break;
            case StripPart.Fader when desk.IsController: HearController(i, d, value.Value); break;
            case StripPart.Fader when Follows: HearOther(i, d, value.Value); break;
            case StripPart.Fader:
                if (desk.Hears(i, value.Value, _now, _isArmed, _faders[i].HandDesk == d)) TakeFromDesk(i, d, desk.Map.Fader.Law.ToGain(value.Value));
                break;
            default:
                desk.Heard(_now);
                break;
        }
    }

    // A controller without motors stands somewhere else than the fader: only where it meets the fader, or passes it, does it take it,
    // so that nothing leaps.
    private void HearController(int i, int d, double value)
    {
        var (desk, fader) = (_desks[d], _faders[i]);
        var before = desk.ReportedGain(i) ?? _plan.Limits.Bottom;
        var had = desk.HasReported(i);
        if (!desk.Hears(i, value, _now, isArmed: true, fader.HandDesk == d)) return;
        var gain = desk.Map.Fader.Law.ToGain(value) is { } wanted
            ? Decibels.Of(Math.Clamp(wanted.Value, _plan.Limits.Bottom.Value, _plan.Limits.Top.Value))
            : (Decibels?)null;
        var (at, stands) = ((gain ?? _plan.Limits.Bottom).Value, (fader.Gain ?? _plan.Limits.Bottom).Value);
        var meets = Math.Abs(at - stands) <= PickUp || (had && (before.Value - stands) * (at - stands) <= 0);
        if (fader.HandDesk == d || meets) Take(i, gain, d);
    }

    private void Wire(int d, bool isOpen)
    {
        _desks[d].Wire(isOpen, _now);
        Tell(new LogEntry(LogKind.Desk, _now, new Seconds(Score)) { Index = d, Text = isOpen ? "there" : "gone" });
    }

    private void Start(Seconds? at)
    {
        var from = at?.Value ?? (_phase == RunPhase.Stopped ? BarStart(Score) : _phase == RunPhase.Waiting ? _startAt : 0);
        from = Math.Clamp(from, 0, _plan.Timeline.Duration.Value);
        (_startAt, _phase, _nextPosition) = (from, RunPhase.Running, _now);
        _clock.Start(new Seconds(from), _clock.IsOutside ? Seconds.Zero : _settings.CountIn(_plan, new Seconds(from)), _now);
        var reading = _clock.Read(_now);
        _head.Reset(reading.At);
        Tell(new LogEntry(LogKind.Start, _now, new Seconds(from)) { Number = reading.At.Value });
    }

    private void Stop()
    {
        if (_phase != RunPhase.Running) return;
        _startAt = Math.Max(0, Score);
        _clock.Stop(_now);
        _head.Reset(new Seconds(_startAt));
        _phase = RunPhase.Stopped;
        Tell(LogKind.Stop);
    }

    private double BarStart(double seconds)
    {
        var timeline = _plan.Timeline;
        return timeline.Tempo.SecondsAt(timeline.BarAt(timeline.Tempo.QuartersAt(new Seconds(Math.Max(0, seconds)))).Start).Value;
    }

    private void Stay(bool still)
    {
        if (_phase != RunPhase.Running) return;
        if (_head.Stay == StayKind.Hold) Release();
        if (still) _head.HoldStill();
        else _head.StayOnBar();
        Tell(new LogEntry(LogKind.Stay, _now, new Seconds(Score)) { Text = still ? "still" : "bar", Number = _head.Apart.Value });
    }

    private void Release()
    {
        if (_phase != RunPhase.Running) return;
        _head.Release();
        Tell(new LogEntry(LogKind.Release, _now, new Seconds(Score)) { Number = _head.Apart.Value });
    }

    private void Jump(Seconds to)
    {
        if (_phase != RunPhase.Running) return;
        if (_head.Stay == StayKind.Hold) Release();
        _head.JumpAtBarline(new Seconds(Math.Clamp(to.Value, 0, _plan.Timeline.Duration.Value)));
        Tell(new LogEntry(LogKind.Jump, _now, new Seconds(Score)) { Number = to.Value });
    }

    private void Take(int i, Decibels? gain, int? desk)
    {
        var fader = _faders[i];
        var within = gain is { } wanted && desk is null
            ? Decibels.Of(Math.Clamp(wanted.Value, _plan.Limits.Bottom.Value, _plan.Limits.Top.Value))
            : gain;
        var kind = fader.Holder == Holder.InHand ? LogKind.Hand : LogKind.Take;
        if (kind == LogKind.Hand && fader.Hand == within && fader.HandDesk == desk) return;
        fader.Take(within, desk);
        Tell(new LogEntry(kind, _now, new Seconds(Score)) { Index = i, HasGain = true, Gain = within, Text = desk is null ? null : "desk" });
    }

    private void TakeFromDesk(int i, int d, Decibels? gain) => Take(i, gain, d);

    private void Move(int i, Decibels by)
    {
        var from = _faders[i].Holder == Holder.InHand ? _faders[i].Hand : _faders[i].Gain;
        // A fader that is off is opened from the bottom, and only upwards.
        if (from is null && by.Value <= 0) Take(i, null, null);
        else Take(i, (from ?? _plan.Limits.Bottom) + by, null);
    }

    private void Back(int i, double? beats)
    {
        if (_faders[i].HandBack(BeatsFromNow(beats ?? _settings.BackBeats))) Tell(LogKind.Back, i, _faders[i].Gain);
    }

    private void Offset(int i, Decibels offset)
    {
        _faders[i].Offset = offset;
        Tell(LogKind.Offset, i, offset);
    }

    private void HoldAll()
    {
        Tell(LogKind.HoldAll);
        for (var i = 0; i < _faders.Length; i++)
            if (_faders[i].Holder != Holder.InHand) Take(i, _faders[i].Gain, null);
    }

    private void AllBack(double? beats)
    {
        Tell(LogKind.AllBack);
        for (var i = 0; i < _faders.Length; i++) Back(i, beats);
    }

    private void Arm(bool isArmed)
    {
        if (isArmed == _isArmed) return;
        _isArmed = isArmed;
        if (!isArmed)
            foreach (var desk in _desks) desk.Forget();
        Tell(isArmed ? LogKind.Arm : LogKind.Disarm);
    }

    private void LinkTold(int i, bool isUp)
    {
        if (isUp == !_faders[i].IsDropped) return;
        Linked(i, isUp ? null : DropCause.Told, isUp ? DropCause.Told : null);
    }
}
