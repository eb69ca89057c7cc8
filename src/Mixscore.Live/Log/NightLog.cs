using System.Reactive.Subjects;

namespace Mixscore.Live;

/// <summary>
/// Keeps a run's log: takes entries on the run's thread without waiting, and writes them on its own, whole lines at a time,
/// out of the program's hands every 100 ms. When the disk refuses, entries are kept and tried again; what no longer fits in
/// memory is counted. The run goes on whatever becomes of the log.
/// </summary>
public sealed class NightLog : ILogSink, IDisposable
{
    private const int Room = 65536;
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(100);
    private readonly LogEntry[] _ring = new LogEntry[Room];
    private readonly LivePlan _plan;
    private readonly Subject<LogEntry> _entries = new();
    private readonly MemoryStream _lines = new();
    private readonly ILogFile _file;
    private readonly TimeSpan _since;
    private readonly Thread? _thread;
    private readonly ManualResetEventSlim _stop = new();
    private long _added;
    private long _written;
    private long _lost;
    private volatile string? _trouble;

    /// <summary>A log into a file.</summary>
    /// <param name="plan">The plan, for positions and names.</param>
    /// <param name="file">Where lines go.</param>
    /// <param name="head">What the first line says.</param>
    /// <param name="since">How long the log has been going on: zero for a new one.</param>
    /// <param name="ownThread">Whether to write on a thread of its own; otherwise <see cref="Write"/> is called by whoever wants it.</param>
    public NightLog(LivePlan plan, ILogFile file, NightHead head, TimeSpan since, bool ownThread = true)
    {
        (_plan, _file, _since) = (plan, file, since);
        head.Write(_lines, since == TimeSpan.Zero ? LogKind.Begin : LogKind.Resume, since, plan);
        Write();
        if (!ownThread) return;
        _thread = new Thread(Loop) { IsBackground = true, Name = "log" };
        _thread.Start();
    }

    /// <summary>What is written, as it is, on the log's thread: what the engineer is told.</summary>
    public IObservable<LogEntry> Entries => _entries;

    /// <summary>Why nothing can be written just now; <c>null</c> while all is well.</summary>
    public string? Trouble => _trouble;

    /// <summary>Entries that were lost since the disk refused for too long.</summary>
    public long Lost => Volatile.Read(ref _lost);

    /// <inheritdoc/>
    public void Add(in LogEntry entry)
    {
        if (_added - Volatile.Read(ref _written) >= Room)
        {
            Interlocked.Increment(ref _lost);
            return;
        }
        _ring[_added % Room] = entry;
        Volatile.Write(ref _added, _added + 1);
    }

    /// <summary>Writes what has come. Not needed where the log has a thread of its own.</summary>
    public void Write()
    {
        var upTo = Volatile.Read(ref _added);
        for (var next = _written; next < upTo; next++)
        {
            var entry = _ring[next % Room];
            _ring[next % Room] = default;
            LogLine.Write(_lines, entry, _since, _plan.Timeline, _plan.Sources);
            Volatile.Write(ref _written, next + 1);
            Say(entry);
        }
        if (_lines.Length == 0) return;
        try
        {
            _file.Append(_lines.GetBuffer().AsSpan(0, (int)_lines.Length));
            _lines.SetLength(0);
            _trouble = null;
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            _trouble = problem.Message;
            // Kept for the next try, up to what memory may be spent on a disk that refuses.
            if (_lines.Length <= MostKept) return;
            Interlocked.Increment(ref _lost);
            _lines.SetLength(0);
        }
    }

    /// <summary>Writes the rest and ends.</summary>
    public void Dispose()
    {
        _stop.Set();
        _thread?.Join();
        Write();
        _entries.OnCompleted();
        _file.Dispose();
        _stop.Dispose();
        _lines.Dispose();
        _entries.Dispose();
    }

    private void Say(in LogEntry entry)
    {
        try
        {
            _entries.OnNext(entry);
        }
        catch (Exception failure)
        {
            // Whoever listens badly must not end the log, nor the program.
            _trouble = $"somebody who is told of the run failed: {failure.Message}";
        }
    }

    private const int MostKept = 64 << 20;

    private void Loop()
    {
        while (!_stop.Wait(Pace)) Write();
    }
}
