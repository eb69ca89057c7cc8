using System.Collections.Concurrent;
using System.Text.Json;
using Mixscore.Live;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// The stems played in time, ten milliseconds a block, on a thread of their own, and a live run that is ticked with each block:
/// its faders are what is heard, its desks move along, its log keeps what the hands do. Orders from any thread are obeyed at the
/// next block; what is heard and where everything is goes to whoever listens, on the rehearsal's thread.
/// </summary>
public sealed class Rehearsal : PageRun, IDisposable
{
    private const int BlocksPerSecond = 100;
    private const int BlocksPerReport = 2;

    /// <summary>A machine that slept is not made up for.</summary>
    private const int MostBlocksBehind = 20;

    /// <summary>Who did not keep up asks for priority again after ten seconds in time.</summary>
    private const int BlocksOfTrust = 1000;

    private readonly PageProject _project;
    private readonly LiveSession _session;
    private readonly RunPicture _picture;
    private readonly StemPlayer _player;
    private readonly Decibels?[] _gains;
    private readonly ConcurrentQueue<Order> _orders = new();
    private readonly float[] _mixed;
    private readonly Thread _thread;
    private readonly TimeProvider _time;
    private volatile bool _ends;
    private LivePlan? _renewed;
    private uint _lastOrder;
    private (int First, int Last)? _loop;
    private bool _sounded;
    private bool _played;
    private uint _jumps;

    /// <summary>A rehearsal that stands at the start of the piece.</summary>
    /// <param name="project">What is played.</param>
    /// <param name="session">The run, opened to be ticked from outside; it stays the caller's to end.</param>
    /// <param name="time">The clock that it keeps.</param>
    /// <exception cref="InputException">A stem is no longer what it was.</exception>
    public Rehearsal(PageProject project, LiveSession session, TimeProvider time)
    {
        (_project, _session, _time) = (project, session, time);
        (_picture, _gains) = (session.Run.View.NewPicture(), new Decibels?[project.Plan.Sources.Count]);
        _player = new StemPlayer(project, project.Stems[0].Stem.File.Format.SampleRate / BlocksPerSecond);
        _mixed = new float[2 * (_player.Rate / BlocksPerSecond)];
        _thread = new Thread(Run) { Name = "rehearsal", IsBackground = true, Priority = ThreadPriority.AboveNormal };
    }

    internal override bool IsPerformance => false;

    internal override int Rate => _player.Rate;

    /// <summary>Begins to keep time; nothing is played until it is told to.</summary>
    public void Start() => _thread.Start();

    internal override string? Post(Order order)
    {
        if (order is Order.Start or Order.Stop or Order.Stay or Order.Release or Order.Arm or Order.Link) return "that is for a performance";
        _orders.Enqueue(order);
        return null;
    }

    internal override byte[] Values() => Frames.Of(
        new ValuesHead(_player.IsPlaying, _player.Jumps, _player.Position.Value, _player.Quarters) { Momentary = _player.Momentary?.Value, ShortTerm = _player.ShortTerm?.Value },
        _picture,
        i => new SourceExtra(_player.Voices[i].Momentary?.Value, _player.Voices[i].IsMuted, _player.Voices[i].IsSolo));

    internal override byte[] State() => JsonSerializer.SerializeToUtf8Bytes(new { kind = "state", loop = _loop is { } bars ? new[] { bars.First, bars.Last } : null });

    /// <summary>Plays what a plan becomes while it is edited.</summary>
    public void Follow(EditedProject edited) => edited.Renewed += Renew;

    /// <summary>Goes on with the rides and levels of a plan that was changed, from the next block.</summary>
    private void Renew(PageProject project)
    {
        var before = _session.Run.Plan;
        var plan = LivePlan.Of(project.OnScore, project.Rides);
        Volatile.Write(ref _renewed, plan with { Sources = [.. plan.Sources.Zip(before.Sources, (now, then) => now with { Active = then.Active })] });
    }

    /// <summary>Ends the thread and closes the stems.</summary>
    public void Dispose()
    {
        _ends = true;
        if (_thread.ThreadState != System.Threading.ThreadState.Unstarted) _thread.Join();
        _player.Dispose();
    }

    private void Run()
    {
        RunTicker.AskForPriority();
        var start = _time.GetTimestamp();
        for (long block = 0, trusted = long.MaxValue; !_ends;)
        {
            var due = (long)(_time.GetElapsedTime(start).TotalSeconds * BlocksPerSecond);
            if (due - block > MostBlocksBehind)
            {
                (block, trusted) = (due, due + BlocksOfTrust);
                RunTicker.GiveUpPriority();
            }
            else if (block >= trusted)
            {
                trusted = long.MaxValue;
                RunTicker.AskForPriority();
            }
            for (; block <= due && !_ends; block++) Block(block);
            var wait = TimeSpan.FromSeconds((double)block / BlocksPerSecond) - _time.GetElapsedTime(start);
            // Whole milliseconds: what is left of one would be spent asking whether it is over.
            if (wait > TimeSpan.Zero) Thread.Sleep((int)Math.Ceiling(wait.TotalMilliseconds));
        }
    }

    private void Block(long block)
    {
        if (Interlocked.Exchange(ref _renewed, null) is { } plan) _session.Run.Replan(plan);
        while (_orders.TryDequeue(out var order)) Obey(order);
        _session.Run.Tick(TimeSpan.FromMilliseconds(block * 1000.0 / BlocksPerSecond));
        _session.Run.View.Look(_picture);
        for (var i = 0; i < _gains.Length; i++) _gains[i] = _picture.Sources[i].Gain;
        var at = _player.Position;
        var isSound = _player.Render(_mixed, _gains);
        TellRun();
        if (isSound || _sounded) Sound(new SoundBlock(_mixed, at, _lastOrder, Begins: isSound && !_sounded, Ends: !_player.IsPlaying));
        _sounded = isSound && _player.IsPlaying;
        if (block % BlocksPerReport == 0) Report();
    }

    /// <summary>The run goes where the sound goes: it begins, stops and is relocated with it.</summary>
    private void TellRun()
    {
        var isElsewhere = _player.Jumps != _jumps;
        if (isElsewhere || (_player.IsPlaying && !_played)) _session.Run.Post(RunEvent.Start(_player.Position));
        if (!_player.IsPlaying && (isElsewhere || _played)) _session.Run.Post(RunEvent.Stop);
        (_jumps, _played) = (_player.Jumps, _player.IsPlaying);
    }

    private void Obey(Order order)
    {
        _lastOrder = order.Number;
        switch (order)
        {
            case Order.Play: _player.Play(); break;
            case Order.Pause: _player.Pause(); break;
            case Order.Jump jump: _player.Jump(_project.Timeline.Tempo.SecondsAt(Math.Clamp(jump.Quarters, 0, _project.Timeline.End.ToDouble()))); break;
            case Order.Loop loop: SetLoop(loop.Bars); break;
            case Order.Take take: _session.Run.Post(RunEvent.Take(take.Source, take.Gain is { } gain ? Decibels.Of(gain) : null)); break;
            case Order.Back back: _session.Run.Post(RunEvent.Back(back.Source)); break;
            case Order.Offset offset: _session.Run.Post(RunEvent.Offset(offset.Source, Decibels.Of(offset.Gain))); break;
            case Order.Mute mute: _player.Voices[mute.Source].IsMuted = mute.On; break;
            case Order.Solo solo: _player.Voices[solo.Source].IsSolo = solo.On; break;
            case Order.Hold: _session.Run.Post(RunEvent.HoldAll); break;
            case Order.AllBack: _session.Run.Post(RunEvent.AllBack()); break;
            case Order.Note note: _session.Run.Post(RunEvent.Note(note.Text)); break;
        }
    }

    private void SetLoop((int First, int Last)? bars)
    {
        _loop = bars;
        _player.Loop = bars is { } loop ? (Frame(_project.Timeline.Bars[loop.First - 1].Start), Frame(_project.Timeline.Bars[loop.Last - 1].End)) : null;
        if (_player.Loop is { } frames && (_player.Frame < frames.From || _player.Frame >= frames.To)) _player.Jump(new Seconds((double)frames.From / _player.Rate));
        Change();
    }

    private long Frame(Quarters place) => _player.FrameAt(_project.Timeline.Tempo.SecondsAt(place));
}

/// <summary>Ten milliseconds of what is heard. The samples stand only until the next block.</summary>
/// <param name="Samples">Left and right, interleaved.</param>
/// <param name="At">Where in the piece it begins, by the click.</param>
/// <param name="Order">The last order that it obeys.</param>
/// <param name="Begins">Whether there was silence before.</param>
/// <param name="Ends">Whether there is silence after.</param>
internal readonly record struct SoundBlock(ReadOnlyMemory<float> Samples, Seconds At, uint Order, bool Begins, bool Ends);
