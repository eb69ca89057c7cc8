using System.Text.Json;
using Mixscore.Live;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// A performance as a page has it: the live run looked at fifty times a second on a thread of its own, and told what a page orders.
/// The run never waits for it: it is looked at by its pictures, and orders go through its inbox.
/// </summary>
public sealed class Evening : PageRun, IDisposable
{
    private const int ReportsPerSecond = 50;

    /// <summary>What changes seldom is looked at each so many reports: 60 ms.</summary>
    private const int ReportsPerState = 3;

    /// <summary>The plan's file is looked at each so many reports: two seconds.</summary>
    private const int ReportsPerPlan = 100;

    /// <summary>A place that is farther on than this after one report was gone to, in seconds.</summary>
    private const double Leap = 0.3;
    private const int MostTold = 30;

    private readonly LiveSession _session;
    private readonly Timeline _timeline;
    private readonly RunPicture _picture;
    private readonly TimeProvider _time;
    private readonly Thread _thread;
    private readonly IDisposable _listening;
    private readonly Lock _gate = new();
    private readonly bool?[] _desks;
    private readonly PlanOnDisk? _plan;
    private readonly string? _planText;
    private bool _isPlanOther;
    private byte[][] _told = [];
    private EveningState _state;
    private volatile bool _ends;
    private uint _jumps;

    /// <summary>Looks at a run that is under way.</summary>
    /// <param name="session">The run; it stays the caller's to end.</param>
    /// <param name="clock">What tells it where the piece is.</param>
    /// <param name="time">The clock that the looking keeps.</param>
    /// <param name="plan">The plan's file: whoever changes it during the performance is told that it goes on without; <c>null</c> where nobody can.</param>
    public Evening(LiveSession session, ClockKind clock, TimeProvider time, string? plan = null)
    {
        _plan = plan is null ? null : new PlanOnDisk(plan);
        _planText = PlanNow();
        (_session, Clock, _timeline, _time) = (session, clock, session.Run.Plan.Timeline, time);
        _picture = session.Run.View.Look();
        _desks = new bool?[session.DeskTitles.Count];
        _state = StateNow();
        _listening = session.Log.Entries.Subscribe(Hear);
        _thread = new Thread(Run) { Name = "evening", IsBackground = true };
    }

    internal override bool IsPerformance => true;

    internal override int Rate => 0;

    internal override ClockKind Clock { get; }

    internal override IReadOnlyList<byte[]> Recent => Volatile.Read(ref _told);

    /// <summary>Begins to look.</summary>
    public void Start() => _thread.Start();

    internal override byte[] Values()
    {
        var isCountIn = _picture.CountIn > Seconds.Zero;
        var at = isCountIn ? _picture.At + _picture.CountIn : _picture.At;
        var quarters = Math.Clamp(_timeline.Tempo.QuartersAt(at), 0, _timeline.End.ToDouble());
        var head = new ValuesHead(_picture.Phase == RunPhase.Running && !isCountIn && Moves(_picture), _jumps, _picture.At.Value, quarters)
        {
            IsArmed = _picture.IsArmed,
            CountIn = isCountIn ? _picture.CountIn.Value / (_timeline.BarAt(quarters + 1e-7).Meter.Unit.ToDouble() * 60 / _timeline.Tempo.TempoAt(quarters + 1e-7)) : 0,
        };
        return Frames.Of(head, _picture, i => new SourceExtra(_picture.Sources[i].Meter?.Value));
    }

    internal override byte[] State() => JsonSerializer.SerializeToUtf8Bytes(new
    {
        kind = "state",
        phase = Words.Of(_state.Phase),
        armed = _state.IsArmed,
        clock = new { state = Words.Of(_state.Clock), rate = _state.Rate, jitter = _state.Jitter },
        stay = _state.Stay switch { StayKind.Loop => "bar", StayKind.Hold => "still", _ => (string?)null },
        jumpsTo = _state.JumpsTo,
        late = _state.Late,
        lost = _state.Lost,
        behind = _state.Behind,
        log = Path.GetFileName(_session.LogPath),
        trouble = _state.Trouble,
        notice = _state.IsPlanOther ? "The plan on disk is no longer the one that is performed: this performance goes on with the plan it was begun with." : null,
        desks = _session.DeskTitles.Select((title, d) => new { title, there = _desks[d] }),
    });

    internal override string? Post(Order order)
    {
        var run = _session.Run;
        switch (order)
        {
            case Order.Start start: return Posted(RunEvent.Start(start.Quarters is { } at ? SecondsAt(at) : null));
            case Order.Stop: return Posted(RunEvent.Stop);
            case Order.Stay stay: return Posted(RunEvent.Stay(stay.Still ? StayKind.Hold : StayKind.Loop));
            case Order.Release: return Posted(RunEvent.Release);
            case Order.Jump jump: return Posted(RunEvent.Jump(SecondsAt(jump.Quarters)));
            case Order.Take take: return Posted(RunEvent.Take(take.Source, take.Gain is { } gain ? Decibels.Of(gain) : null));
            case Order.Back back: return Posted(RunEvent.Back(back.Source));
            case Order.Offset offset: return Posted(RunEvent.Offset(offset.Source, Decibels.Of(offset.Gain)));
            case Order.Hold: return Posted(RunEvent.HoldAll);
            case Order.AllBack: return Posted(RunEvent.AllBack());
            case Order.Arm arm: return Posted(arm.On ? RunEvent.Arm : RunEvent.Disarm);
            case Order.Link link:
                for (var i = 0; i < run.Plan.Sources.Count; i++)
                    if (run.Plan.Sources[i].Source.Site.Name == link.Site && Posted(RunEvent.Link(i, link.IsUp)) is { } problem) return problem;
                return null;
            case Order.Note note: return Posted(RunEvent.Note(note.Text));
            default: return "that is for a rehearsal";
        }
    }

    /// <summary>Ends the looking; the run goes on.</summary>
    public void Dispose()
    {
        _ends = true;
        if (_thread.ThreadState != ThreadState.Unstarted) _thread.Join();
        _listening.Dispose();
    }

    private string? Posted(RunEvent posted) => _session.Run.Post(posted) ? null : "the run has no room for more";

    private Seconds SecondsAt(double quarters) => _timeline.Tempo.SecondsAt(Math.Clamp(quarters, 0, _timeline.End.ToDouble()));

    private static bool Moves(RunPicture picture) => picture.Clock.State is ClockState.Running or ClockState.Carrying && picture.Stay != StayKind.Hold;

    private void Run()
    {
        var start = _time.GetTimestamp();
        for (long report = 0; !_ends; report++)
        {
            var due = TimeSpan.FromSeconds((double)report / ReportsPerSecond);
            var wait = due - _time.GetElapsedTime(start);
            if (wait > TimeSpan.Zero) Thread.Sleep(wait);
            else if (wait < TimeSpan.FromSeconds(-1)) report = (long)(_time.GetElapsedTime(start).TotalSeconds * ReportsPerSecond);
            Look(report);
        }
    }

    private void Look(long report)
    {
        var before = _picture.At;
        _session.Run.View.Look(_picture);
        if (Math.Abs((_picture.At - before).Value) is > Leap || _picture.At < before) _jumps++;
        Report();
        if (report % ReportsPerPlan == 0) _isPlanOther = PlanNow() != _planText;
        if (report % ReportsPerState != 0 || StateNow() is var state && state == _state) return;
        _state = state;
        Change();
    }

    // A file that cannot be read just now says nothing.
    private string? PlanNow()
    {
        try
        {
            return _plan?.Read();
        }
        catch (Exception unread) when (unread is IOException or UnauthorizedAccessException)
        {
            return _planText;
        }
    }

    private EveningState StateNow() => new(
        _picture.Phase, _picture.IsArmed, _picture.Clock.State, Math.Round((_picture.Clock.Rate - 1) * 100, 2), Math.Round(_picture.Clock.Jitter.Value * 1000, 1), _picture.Stay,
        _picture.JumpsTo is { } to ? BeatPosition.Name(_timeline, _timeline.BarAt(_timeline.Tempo.QuartersAt(to) + 1e-7)) : null,
        _session.Ticks.Late, _session.Ticks.Lost,
        _session.Behind is { Controls: > 0 } behind ? $"the wire is {behind.Controls} faders behind, at most {behind.Worst}" : null,
        _session.Failure is { } failure ? $"a tick of the run failed: {failure.Message}" : _session.Log.Trouble is { } trouble ? $"the log cannot be written: {trouble}" : _session.LogTrouble,
        _isPlanOther,
        Volatile.Read(ref _deskChanges));

    private int _deskChanges;

    /// <summary>On the log's thread.</summary>
    private void Hear(LogEntry entry)
    {
        var line = LogLine.Of(entry, _session.Run.Plan);
        if (entry.Kind == LogKind.Desk && entry.Index < _desks.Length)
        {
            _desks[entry.Index] = entry.Text == "there";
            Interlocked.Increment(ref _deskChanges);
        }
        if (entry.Kind == LogKind.Hand || NightStory.Tell(line) is not { } told) return;
        var message = JsonSerializer.SerializeToUtf8Bytes(new { kind = "told", at = line.At?.Split('+')[0], what = told, grave = entry.Kind is LogKind.Drop or LogKind.Trouble });
        lock (_gate) Volatile.Write(ref _told, [.. _told.TakeLast(MostTold - 1), message]);
        Tell(message);
    }

    private readonly record struct EveningState(
        RunPhase Phase, bool IsArmed, ClockState Clock, double Rate, double Jitter, StayKind Stay, string? JumpsTo, long Late, long Lost, string? Behind, string? Trouble, bool IsPlanOther, int DeskChanges);
}
