using System.Collections.Concurrent;
using System.Globalization;
using System.Reactive.Linq;
using Mixscore.Live;
using Mixscore.Score;
using Spectre.Console;
using Spectre.Console.Rendering;

namespace Mixscore.Screen;

/// <summary>A live run in the terminal: the call, the sources, what comes next; keys and words to control it. Without a terminal
/// plain lines tell what happens, and lines that come in are obeyed.</summary>
internal sealed class LiveScreen : IDisposable
{
    private const string Keys = "A arm  space start/stop  s stay  r release  h hold all  a all back  T take over  : words  Q end";
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(100);
    private readonly Terminal _terminal;
    private readonly LiveSession _session;
    private readonly string _title;
    private readonly RunPicture _picture;
    private readonly ConcurrentQueue<string> _said = new();
    private readonly CancellationTokenSource _ends = new();
    private readonly List<IDisposable> _listening = [];
    private string? _typing;

    internal LiveScreen(Terminal terminal, LiveSession session, string title)
    {
        (_terminal, _session, _title, _picture) = (terminal, session, title, session.Run.View.NewPicture());
        _listening.Add(session.Log.Entries.Subscribe(entry =>
        {
            var line = LogLine.Of(entry, session.Run.Plan);
            if (NightStory.Tell(line) is { } told) Say($"{(line.At is { } at ? at.Split('+')[0] : "–"),-8} {told}");
        }));
        if (session.Control is { } control) _listening.Add(control.Problems.Subscribe(problem => Say($"control: {problem}")));
    }

    /// <summary>Runs until ended.</summary>
    internal async Task<int> UntilAsync(CancellationToken cancellation)
    {
        using var ends = CancellationTokenSource.CreateLinkedTokenSource(cancellation, _ends.Token);
        Open();
        if (_terminal.IsInteractive) await ShowAsync(ends.Token);
        else await ListenAsync(ends.Token);
        Close();
        if (_session.Failure is not { } failure) return ExitCode.Good;
        return _terminal.Fail(ExitCode.Broken, $"a tick of the run failed: {failure.Message}", "please report it, with the log");
    }

    public void Dispose()
    {
        foreach (var one in _listening) one.Dispose();
        _ends.Dispose();
    }

    private void Open()
    {
        _terminal.Say($"{_title}: {(_session.LogTrouble is { } trouble ? $"{trouble.TrimEnd('.')}; the log is {(_session.LogPath is { } elsewhere ? $"in {elsewhere}" : "not kept")}" : $"log {Path.GetFileName(_session.LogPath)}")}");
        if (_session.Control is { } control) _terminal.Say($"control: udp://{control.Local}");
        _terminal.Say("Loud sound harms ears: follow local law and a licensed person. The pilot or driver of a site has the last word over its equipment.");
        var speeds = _session.Run.Plan.Limits;
        foreach (var site in _session.Run.Plan.Sources.Select(source => source.Source.Site).DistinctBy(site => site.Name).Where(site => site.Link.OnDrop.Fades))
        {
            // Never faster than the plan's own limit, whatever the site's fade says.
            if ((speeds.Top.Value - speeds.Bottom.Value) / Math.Max(site.Link.OnDrop.Over.Value, 0.001) > speeds.Speed)
                _terminal.Say(string.Create(CultureInfo.InvariantCulture, $"{site.Name}: fades at {speeds.Speed:0.#} dB/s when its link is gone, the plan's limit"));
        }
    }

    private void Close()
    {
        var (late, lost) = _session.Ticks;
        _terminal.Say($"Ended. Late ticks: {late}, left out: {lost}.{(Losses() is { Length: > 0 } losses ? $" Lost: {losses}." : "")} The faders stay where they are.");
    }

    private async Task ListenAsync(CancellationToken ended)
    {
        _terminal.Say($"Write {ControlLine.Words} or quit.");
        // A line that is being waited for cannot be called off; the end of the program ends it.
        _ = Task.Run(Obey, CancellationToken.None);
        while (!ended.IsCancellationRequested)
        {
            await Task.Delay(Pace, CancellationToken.None);
            while (_said.TryDequeue(out var line)) _terminal.Say(line);
        }
        while (_said.TryDequeue(out var line)) _terminal.Say(line);
    }

    private void Obey()
    {
        while (_terminal.In.ReadLine() is { } line)
        {
            if (line.Trim() == "quit")
            {
                End();
                return;
            }
            if (ControlLine.Obey(line, _session.Run, Now) is { } problem) Say(problem);
        }
    }

    private async Task ShowAsync(CancellationToken ended)
    {
        await _terminal.Out.Live(Picture()).AutoClear(true).StartAsync(async live =>
        {
            while (!ended.IsCancellationRequested)
            {
                while (Console.KeyAvailable) Press(Console.ReadKey(intercept: true));
                live.UpdateTarget(Picture());
                await Task.Delay(Pace, CancellationToken.None);
            }
        });
    }

    private TimeSpan Now => _session.Run.View.Look().Now;

    private void Press(ConsoleKeyInfo key)
    {
        if (_typing is { } typed)
        {
            _typing = key.Key switch
            {
                ConsoleKey.Enter or ConsoleKey.Escape => null,
                ConsoleKey.Backspace => typed.Length > 0 ? typed[..^1] : null,
                _ => char.IsControl(key.KeyChar) ? typed : typed + key.KeyChar,
            };
            if (key.Key == ConsoleKey.Enter && ControlLine.Obey(typed, _session.Run, Now) is { } problem) Say(problem);
            return;
        }
        var run = _session.Run;
        run.View.Look(_picture);
        switch (key.KeyChar)
        {
            // What cannot be taken back at once takes a capital.
            case 'A': run.Post(_picture.IsArmed ? RunEvent.Disarm : RunEvent.Arm); break;
            case ' ': run.Post(_picture.Phase == RunPhase.Running ? RunEvent.Stop : RunEvent.Start()); break;
            case 's': run.Post(RunEvent.Stay()); break;
            case 'r': run.Post(RunEvent.Release); break;
            case 'h': run.Post(RunEvent.HoldAll); break;
            case 'a': run.Post(RunEvent.AllBack()); break;
            case 'T': run.Post(RunEvent.TakeOver); break;
            case ':': _typing = ""; break;
            case 'Q': End(); break;
        }
    }

    private Rows Picture()
    {
        _session.Run.View.Look(_picture);
        var plan = _session.Run.Plan;
        var rows = new List<IRenderable>
        {
            new Markup($"[bold]{Markup.Escape(BeatPosition.Of(plan.Timeline, _picture.At, _picture.CountIn))}[/]   {Time(_picture.At)}   {Markup.Escape(State())}"),
            SourceTable(plan),
            new Text(NextMoves.Of(plan, _picture.At) is { Length: > 0 } next ? $"Next: {next}" : "Nothing more to come."),
        };
        while (_said.Count > 6) _said.TryDequeue(out _);
        rows.AddRange(_said.Select(line => new Text(line)));
        rows.Add(new Text(_typing is { } typed ? $": {typed}_" : Keys));
        return new Rows(rows);
    }

    private string State()
    {
        var clock = _picture.Clock;
        var figures = clock.Jitter > Seconds.Zero ? string.Create(CultureInfo.InvariantCulture, $" {(clock.Rate - 1) * 100:+0.00;-0.00} %, jitter {clock.Jitter.Value * 1000:0.0} ms") : "";
        return $"{(_picture.IsArmed ? "ARMED" : "not armed")}{Spare(_picture.Spare)}, {Words.Of(_picture.Phase)}, clock {Words.Of(clock.State)}{figures}"
            + (_picture.Stay == StayKind.None ? "" : ", stays") + (_picture.JumpsTo is null ? "" : ", jumps at the barline")
            + (_session.Behind is { Controls: > 0 } behind ? $", the wire is {behind.Controls} faders behind, at most {behind.Worst}" : "")
            + (Losses() is { Length: > 0 } losses ? $", LOST: {losses}" : "")
            + (_session.Log.Trouble is { } trouble ? $", LOG: {trouble}" : "") + (_session.Ticks.Late is var late and > 0 ? $", {late} late ticks" : "");
    }

    private static string Spare(SpareView spare) => spare switch
    {
        { Role: SpareRole.Follows, IsKnown: false } => ", SPARE: has not heard the run that it follows",
        { Role: SpareRole.Follows, IsStandingIn: true } => string.Create(CultureInfo.InvariantCulture, $", SPARE: the other is silent for {spare.Silent.TotalSeconds:0.0} s, this one moves what is to be moved"),
        { Role: SpareRole.Follows, Silent.TotalSeconds: > 0.5 } => string.Create(CultureInfo.InvariantCulture, $", SPARE: the other is silent for {spare.Silent.TotalSeconds:0.0} s, and the desk does not answer: T takes over"),
        { Role: SpareRole.Follows, DeskSilent.TotalSeconds: > 2 } => string.Create(CultureInfo.InvariantCulture, $", SPARE: follows; the other has not heard its desk for {spare.DeskSilent.TotalSeconds:0} s: T takes over"),
        { Role: SpareRole.Follows } => ", SPARE: follows",
        { IsKnown: true, Silent.TotalSeconds: > 1 } => ", its spare is gone",
        { IsKnown: true } => ", has a spare",
        _ => "",
    };

    private string Losses()
    {
        var (unsent, refused, unlogged) = _session.Losses;
        return string.Join(", ", new[] { (unsent, "sends to a desk"), (refused, "orders"), (unlogged, "lines of the log") }
            .Where(one => one.Item1 > 0).Select(one => $"{one.Item1} {one.Item2}"));
    }

    private Table SourceTable(LivePlan plan)
    {
        var table = Tables.Plain("Source", "Plan", "Actual", "Desk", "Held by", "");
        for (var i = 0; i < plan.Sources.Count; i++)
        {
            var source = _picture.Sources[i];
            var desk = _picture.Desks.Length > i ? _picture.Desks[i] : default;
            table.AddRow(
                Markup.Escape(plan.Sources[i].Source.Name), Gain(source.Planned), Gain(source.Gain), desk.HasReported || _picture.IsArmed ? Gain(desk.Gain) : "?",
                Words.Of(source.Holder) + (source.HandDesk is null ? "" : " on the desk"),
                (source.Offset.Value != 0 ? string.Create(CultureInfo.InvariantCulture, $"{source.Offset.Value:+0.0;-0.0} dB ") : "") + (source.Gone is { } gone ? $"GONE ({Words.Of(gone)})" : ""));
        }
        return table;
    }

    private static string Gain(Loudness.Decibels? gain) => gain is { } value ? value.Value.ToString("0.0", CultureInfo.InvariantCulture) : "off";

    private static string Time(Seconds at) => string.Create(CultureInfo.InvariantCulture, $"{(at.Value < 0 ? "-" : "")}{Math.Floor(Math.Abs(at.Value) / 60):0}:{Math.Floor(Math.Abs(at.Value) % 60):00}");

    /// <summary>Says a line, from any thread.</summary>
    internal void Say(string line) => _said.Enqueue(line);

    private void End()
    {
        try
        {
            _ends.Cancel();
        }
        catch (ObjectDisposedException)
        {
            // It has ended already.
        }
    }
}
