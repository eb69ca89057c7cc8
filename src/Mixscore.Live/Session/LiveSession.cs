using System.Diagnostics;
using System.Net;
using System.Net.Sockets;
using System.Reactive.Concurrency;
using System.Security.Cryptography;
using System.Text;
using Mixscore.Desk;
using Mixscore.Protocols.Transports;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>A live run with all its edges: desks on their wires, the clock, the log on disk, the control port, and the thread that ticks.</summary>
public sealed class LiveSession : IDisposable
{
    private readonly List<IDisposable> _open = [];
    private readonly LiveDesk[] _desks;
    private readonly RunTicker? _ticker;
    private readonly LiveRun? _run;

    private LiveSession(LivePlan plan, SessionOptions options, TimeProvider time)
    {
        try
        {
            // Everything counts from here: the run's time, the log's, and the machine's when the run is taken up again.
            var zero = Stopwatch.GetTimestamp();
            var uptime = MachineTime.Uptime;
            TimeSpan Now() => Stopwatch.GetElapsedTime(zero);
            var midi = MidiPoints(plan, options);
            void Heard(MidiArrival arrival)
            {
                if (midi?.Take(arrival.Message, arrival.Exclusive, Now()) is { } point) _run?.Post(RunEvent.Clock(point));
            }

            var hearsDesk = midi is not null && options.ClockFrom is null;
            _desks = [.. options.Desks.Concat(options.Controllers).Select((map, d) => Keep(LiveDesk.Open(map, plan, time, value => _run?.Post(RunEvent.Desk(d, value)),
                hearsDesk && map.Protocol == DeskProtocol.Midi ? Heard : null, isController: d >= options.Desks.Count)))];
            if (options.Desks.Count > 0) CheckReach(plan);
            if (hearsDesk && options.Desks.All(map => map.Protocol != DeskProtocol.Midi))
                throw new InputException(new Fault("MX405", new Place("--clock"), "no desk speaks MIDI, so no timecode or clock can come from one", "say --clock-from rtp-midi://HOST:PORT or midi:DEVICE"));

            RunClock clock = options.Clock == ClockKind.Click ? new OwnClick() : new ChaseClock(options.Carry);
            var date = time.GetLocalNow();
            var (file, night) = OpenLog(options, date);
            var head = new NightHead(date, Path.GetFileName(options.Plan), options.PlanKey, $"{options.Clock}".ToLowerInvariant(), [.. options.Desks.Select(map => map.Title)], MachineTime.Boot, uptime, options.IsTickedFromOutside);
            var since = night?.Head is { } before ? night.HeadAt + head.Since(before) : TimeSpan.Zero;
            Log = new NightLog(plan, file, head, night is null ? TimeSpan.Zero : since);
            var run = options.Run with { IsSpare = options.SpareOf is not null, PlanKey = options.PlanKey, Id = RandomNumberGenerator.GetInt32(1, int.MaxValue) };
            Run = _run = new LiveRun(plan, clock, [.. _desks.Select(desk => desk.Desk)], run, Log);
            if (night is not null) Run.Resume(NightState.Of(night), since);
            else if (options.IsArmed) Run.Post(RunEvent.Arm);
            for (var d = 0; d < _desks.Length; d++)
            {
                var desk = d;
                _desks[d].Watch(isOpen => Run.Post(RunEvent.Wire(desk, isOpen)));
            }
            if (!options.IsTickedFromOutside) _ticker = Keep(new RunTicker(Run, Log, zero));
            if (options.ClockFrom is { } from && midi is not null) Keep(OpenMidi(from, time, Heard));
            if (options.Sound is { } sound) Keep(new SoundClock(sound, options.Zero, Now, point => Run.Post(RunEvent.Clock(point)), plan.Timeline.Duration));
            // Whoever asks is told where the run is, not where it was before its first tick.
            if (_ticker is not null) SpinWait.SpinUntil(() => Run.View.Look().Now > TimeSpan.Zero, TimeSpan.FromSeconds(2));
            // A spare is answered at whatever port it speaks from.
            var at = options.Control ?? (options.SpareOf is { } first ? new IPEndPoint(first.AddressFamily == AddressFamily.InterNetworkV6 ? IPAddress.IPv6Any : IPAddress.Any, 0) : null);
            if (at is not null) Control = Keep(new ControlPort(Run, at, Now, DefaultScheduler.Instance, () => Log.Trouble, new SpareTalk(Run, run.PlanKey, run.Id, options.SpareOf)));
        }
        catch
        {
            Dispose();
            throw;
        }
    }

    /// <summary>The run.</summary>
    public LiveRun Run { get; }

    /// <summary>Its log.</summary>
    public NightLog Log { get; }

    /// <summary>The log's file; <c>null</c> when none could be written anywhere.</summary>
    public string? LogPath { get; private set; }

    /// <summary>Why the log is not where it should be, in words; <c>null</c> when it is.</summary>
    public string? LogTrouble { get; private set; }

    /// <summary>The control port; <c>null</c> for none.</summary>
    public ControlPort? Control { get; }

    /// <summary>The titles of the desks, and then of the controllers, as the run counts them.</summary>
    public IReadOnlyList<string> DeskTitles => [.. _desks.Select(desk => desk.Desk.Map.Title)];

    /// <summary>What waits for room on the wires of all desks: how many faders, and how far the furthest is from its value.</summary>
    public DeskBehind Behind => _desks.Select(desk => desk.Behind).Aggregate(default(DeskBehind),
        (sum, one) => new DeskBehind(sum.Controls + one.Controls, Loudness.Decibels.Max(sum.Worst, one.Worst)));

    /// <summary>What was lost: ticks in which a desk could not be sent to, orders for which there was no room, entries that the log could not keep.</summary>
    public (long Unsent, long Refused, long Unlogged) Losses => (_desks.Sum(desk => desk.Desk.Unsent), Run.Refused, Log.Lost);

    /// <summary>Ticks that began late, and ticks left out.</summary>
    public (long Late, long Lost) Ticks => _ticker is { } ticker ? (ticker.Late, ticker.Lost) : (0, 0);

    /// <summary>Why the run's thread has ended; <c>null</c> while it ticks.</summary>
    public Exception? Failure => _ticker?.Failure;

    /// <summary>Opens everything and begins to tick; nothing is sent unless it was armed.</summary>
    /// <exception cref="IOException">A host, port or device is not available.</exception>
    /// <exception cref="UnauthorizedAccessException">A device may not be opened.</exception>
    /// <exception cref="InputException">The maps do not fit the plan, or there is no log to take up.</exception>
    public static LiveSession Open(LivePlan plan, SessionOptions options, TimeProvider time) => new(plan, options, time);

    /// <summary>Ends: faders stay where they are.</summary>
    public void Dispose()
    {
        // In the other order than they were opened; the log last, so that it has all.
        for (var i = _open.Count - 1; i >= 0; i--) _open[i].Dispose();
        _open.Clear();
        if (Log is null) return;
        Log.Add(new LogEntry(LogKind.End, _ticker?.Now ?? Run?.View.Look().Now ?? TimeSpan.Zero, new Seconds(Run?.View.Look().At.Value ?? 0)));
        Log.Dispose();
    }

    private T Keep<T>(T opened) where T : IDisposable
    {
        _open.Add(opened);
        return opened;
    }

    private void CheckReach(LivePlan plan)
    {
        for (var i = 0; i < plan.Sources.Count; i++)
            if (!_desks.Any(desk => !desk.Desk.IsController && desk.Desk.Carries(i)))
                throw new InputException(new Fault("MX402", plan.Sources[i].Source.StripPlace ?? plan.Sources[i].Source.Place,
                    $"no desk reaches strip {plan.Sources[i].Source.Strip} of {plan.Sources[i].Source.Name}", "give a map that does, or another strip"));
    }

    private static IMidiPoints? MidiPoints(LivePlan plan, SessionOptions options) => options.Clock switch
    {
        ClockKind.Mtc => new TimecodePoints(options.Zero, plan.Timeline.Duration),
        ClockKind.Midi => new MidiClockPoints(plan.Timeline.Tempo),
        _ => null,
    };

    private static IDisposable OpenMidi(Endpoint from, TimeProvider time, MidiReceived heard) => from.Carrier switch
    {
        Carrier.MidiDevice when from.Device == "-" => new MidiPipe(Console.OpenStandardInput(), null, heard),
        Carrier.MidiDevice => new MidiDevice(from.Device, heard),
        Carrier.RtpMidi => new RtpMidiUdp(new IPEndPoint(IPAddress.Any, 0), DeskLink.Resolve(from), RtpMidiIdentity.Random("Mixscore"), time, heard),
        _ => throw new InputException(new Fault("MX405", new Place("--clock-from"), $"{from} carries no MIDI", "say rtp-midi://HOST:PORT, midi:DEVICE, or midi:- for what is piped in")),
    };

    // The night matters more than its log: where the project's folder refuses, a folder of the system takes it, and the engineer is told.
    private (ILogFile File, Night? Night) OpenLog(SessionOptions options, DateTimeOffset date)
    {
        if (!options.Resumes) return (Begin(options.LogFolder, Elsewhere(options.LogFolder), date), null);
        var night = LogFile.NewestFirst(options.LogFolder, Elsewhere(options.LogFolder)).Select(Night.TryRead).FirstOrDefault(found => found?.Head is { IsRehearsal: false })
            ?? throw new InputException(new Fault("MX403", new Place(options.LogFolder), "there is no log of a performance to take up", "begin without --resume"));
        LogPath = night.Path;
        try
        {
            return (LogFile.GoOn(night.Path), night);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            LogTrouble = problem.Message;
        }
        return (GoOnElsewhere(night.Path, Elsewhere(options.LogFolder)), night);
    }

    // A folder for each project, so that no night is taken up from another piece's log.
    private static string Elsewhere(string folder) =>
        Path.Combine(Path.GetTempPath(), "mixscore-log-" + Convert.ToHexStringLower(SHA256.HashData(Encoding.UTF8.GetBytes(Path.GetFullPath(folder))))[..12]);

    private ILogFile Begin(string folder, string elsewhere, DateTimeOffset date)
    {
        foreach (var one in new[] { folder, elsewhere })
            try
            {
                var file = LogFile.Begin(one, date);
                LogPath = file.Path;
                return file;
            }
            catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
            {
                LogTrouble = problem.Message;
            }
        return new NoFile();
    }

    // All that it has goes along, so that it can be taken up again from there.
    private ILogFile GoOnElsewhere(string path, string elsewhere)
    {
        try
        {
            Directory.CreateDirectory(elsewhere);
            var copy = Path.Combine(elsewhere, Path.GetFileName(path));
            File.Copy(path, copy, overwrite: true);
            File.SetAttributes(copy, FileAttributes.Normal);
            LogPath = copy;
            return LogFile.GoOn(copy);
        }
        catch (Exception problem) when (problem is IOException or UnauthorizedAccessException)
        {
            (LogPath, LogTrouble) = (null, problem.Message);
            return new NoFile();
        }
    }

    private sealed class NoFile : ILogFile
    {
        public void Append(ReadOnlySpan<byte> lines)
        {
            // There is nowhere to write; the engineer has been told.
        }

        public void Dispose()
        {
        }
    }
}
