using Mixscore.Score;

namespace Mixscore.Live;

public sealed partial class LiveRun
{
    /// <summary>Takes up the state that a log ends in, before the first tick.</summary>
    /// <param name="state">The state.</param>
    /// <param name="ago">How long ago the log's time zero was, on the run's time: the run's zero is now.</param>
    /// <exception cref="InvalidOperationException">The run has begun to tick.</exception>
    public void Resume(NightState state, TimeSpan ago)
    {
        if (_hasTicked) throw new InvalidOperationException("a run that ticks is not taken up again");
        _startAt = state.StartedAt.Value;
        if (state.Phase == RunPhase.Running) Follow(state, ago);
        else if (state.Phase == RunPhase.Stopped) (_phase, _startAt) = (RunPhase.Waiting, Math.Max(0, state.At.Value));
        for (var i = 0; i < _faders.Length; i++)
        {
            _faders[i].Place(RideAt(i));
            if (!state.Sources.TryGetValue(_plan.Sources[i].Source.Name, out var source)) continue;
            var gain = source.Holder == Holder.InHand ? source.Gain : _faders[i].Gain;
            _faders[i].Restore(source.Holder, gain, source.Offset);
            if (source.IsTold) LinkTold(i, isUp: false);
            if (source.IsTold) _links[i].Tell(isUp: false);
        }
        if (state.IsArmed) Arm(true);
        // Another may have gone on with it: it is listened for, before anything is sent.
        if (state.HasSpare) BeginToFollow(stepsBack: TimeSpan.Zero);
        Publish();
    }

    private void Follow(NightState state, TimeSpan ago)
    {
        _phase = RunPhase.Running;
        if (_clock.IsOutside)
        {
            _clock.Start(state.At, Seconds.Zero, TimeSpan.Zero);
            _startAt = state.At.Value;
            _head.Restore(state.Apart, state.Stay, state.At, state.JumpsTo);
            return;
        }
        // As if the click had kept running since it was begun.
        var clock = state.Anchor.Clock.Value + (ago - state.Anchor.T).TotalSeconds;
        _clock.Start(new Seconds(clock), Seconds.Zero, TimeSpan.Zero);
        _head.Restore(state.Apart, state.Stay, state.Stay == StayKind.Hold ? state.At : state.ToldAt, state.JumpsTo);
        _reading = _clock.Read(TimeSpan.Zero);
        _head.Advance(_reading.At);
    }
}
