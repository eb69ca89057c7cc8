using System.Net;
using System.Reactive.Concurrency;
using System.Reactive.Linq;
using System.Reactive.Subjects;
using System.Text;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;

namespace Mixscore.Live;

/// <summary>
/// Control of a run by OSC over UDP: posts what is asked for, answers what is wrong with <c>/mixscore/problem</c> s, and tells
/// whoever asked to watch, ten times a second and more, <c>/mixscore/position</c> sf (<c>bar[@pass]:beat</c>, seconds into the
/// score), <c>/mixscore/source</c> ssf (source; <c>planned</c>, <c>in hand</c> or <c>returning</c>; dB, −∞ for off) for each
/// source, and <c>/mixscore/run</c> ssiis (phase, clock, armed, staying, what is wrong with the log or empty), and where there is another run
/// <c>/mixscore/spare</c> sif (<c>performs</c> or <c>follows</c>, standing in, for how many seconds the other has been silent).
/// </summary>
public sealed class ControlPort : IDisposable
{
    /// <summary>From one telling to the next.</summary>
    public static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(80);

    private const int MostWatchers = 64;
    private readonly LiveRun _run;
    private readonly Func<TimeSpan> _now;
    private readonly Func<string?> _trouble;
    private readonly OscUdp _udp;
    private readonly Subject<string> _problems = new();
    private readonly List<IPEndPoint> _watchers = [];
    private readonly RunPicture _picture;
    private readonly byte[] _buffer = new byte[1024];
    private readonly SpareTalk? _spare;
    private readonly SpareTalker? _talking;
    private readonly IDisposable _telling;
    private bool _isClosed;

    /// <summary>Opens the port.</summary>
    /// <param name="run">The run.</param>
    /// <param name="at">Where; port 0 is any free one.</param>
    /// <param name="now">The run's time.</param>
    /// <param name="scheduler">Tells when to tell.</param>
    /// <param name="trouble">What is wrong with the log; <c>null</c> for nothing.</param>
    /// <param name="spare">Talks with another run; <c>null</c> where there can be none.</param>
    /// <exception cref="IOException">The port is not available.</exception>
    public ControlPort(LiveRun run, IPEndPoint at, Func<TimeSpan> now, IScheduler scheduler, Func<string?> trouble, SpareTalk? spare = null)
    {
        (_run, _now, _trouble, _picture, _spare) = (run, now, trouble, run.View.NewPicture(), spare);
        _udp = new OscUdp(at, Take);
        if (spare is not null) _talking = new SpareTalker(spare, _udp, now);
        _telling = Observable.Interval(Pace, scheduler).Subscribe(_ => TellAll());
    }

    /// <summary>Where it listens.</summary>
    public IPEndPoint Local => _udp.Local;

    /// <summary>What was asked for and could not be done, in words.</summary>
    public IObservable<string> Problems => _problems;

    /// <summary>Closes the port.</summary>
    public void Dispose()
    {
        if (_isClosed) return;
        _isClosed = true;
        _telling.Dispose();
        _talking?.Dispose();
        _udp.Dispose();
        _problems.OnCompleted();
        _problems.Dispose();
    }

    private void Take(ReadOnlySpan<byte> packet, IPEndPoint from)
    {
        var reader = new OscReader(packet);
        var events = new List<RunEvent>();
        while (reader.NextMessage())
        {
            var address = Encoding.ASCII.GetString(reader.Address);
            if (_spare is not null && address.StartsWith(TwinMessage.Root, StringComparison.Ordinal))
            {
                if (_spare.Take(ref reader, from, _now()) is { } trouble) _problems.OnNext(trouble);
                continue;
            }
            var arguments = ControlMessage.Arguments(ref reader);
            if (address == ControlMessage.Root + "watch")
            {
                Watch(from);
                continue;
            }
            events.Clear();
            if (ControlMessage.Read(address, arguments, _run.Plan, _now(), events) is { } problem)
            {
                _problems.OnNext(problem);
                Say(from, ControlMessage.Root + "problem", problem);
                continue;
            }
            foreach (var posted in events)
                if (!_run.Post(posted)) _problems.OnNext("the run has no room for more; it was lost");
        }
    }

    private void Watch(IPEndPoint from)
    {
        lock (_watchers)
        {
            if (!_watchers.Contains(from))
            {
                if (_watchers.Count == MostWatchers) _watchers.RemoveAt(0);
                _watchers.Add(from);
            }
            _run.View.Look(_picture);
            Tell(from);
        }
    }

    private void TellAll()
    {
        lock (_watchers)
        {
            if (_watchers.Count == 0) return;
            _run.View.Look(_picture);
            foreach (var watcher in _watchers) Tell(watcher);
        }
    }

    private void Tell(IPEndPoint to)
    {
        var writer = new OscWriter(_buffer);
        writer.BeginMessage("/mixscore/position", "sf"u8);
        writer.Text(BeatPosition.Of(_run.Plan.Timeline, _picture.At, _picture.CountIn));
        writer.Float32((float)_picture.At.Value);
        Send(ref writer, to);
        for (var i = 0; i < _picture.Sources.Length; i++)
        {
            writer = new OscWriter(_buffer);
            writer.BeginMessage("/mixscore/source", "ssf"u8);
            writer.Text(_run.Plan.Sources[i].Source.Name);
            writer.Text(Words.Of(_picture.Sources[i].Holder));
            writer.Float32((float)(_picture.Sources[i].Gain?.Value ?? double.NegativeInfinity));
            Send(ref writer, to);
        }
        writer = new OscWriter(_buffer);
        writer.BeginMessage("/mixscore/run", "ssiis"u8);
        writer.Text(Words.Of(_picture.Phase));
        writer.Text(Words.Of(_picture.Clock.State));
        writer.Int32(_picture.IsArmed ? 1 : 0);
        writer.Int32(_picture.Stay == StayKind.None ? 0 : 1);
        writer.Text(_trouble() ?? "");
        Send(ref writer, to);
        if (_picture.Spare is { IsKnown: false, Role: SpareRole.Performs }) return;
        writer = new OscWriter(_buffer);
        writer.BeginMessage("/mixscore/spare", "sif"u8);
        writer.Text(Words.Of(_picture.Spare.Role));
        writer.Int32(_picture.Spare.IsStandingIn ? 1 : 0);
        writer.Float32((float)_picture.Spare.Silent.TotalSeconds);
        Send(ref writer, to);
    }

    private void Send(ref OscWriter writer, IPEndPoint to)
    {
        if (writer.EndMessage()) _udp.Send(writer.Written, to);
    }

    private void Say(IPEndPoint to, string address, string text)
    {
        var packet = OscCodec.Encode(new OscMessage(address, OscArgument.Of(text)));
        _udp.Send(packet, to);
    }
}
