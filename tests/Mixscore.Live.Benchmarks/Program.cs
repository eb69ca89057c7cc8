using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Runtime;
using System.Runtime.InteropServices;
using Mixscore.Desk;
using Mixscore.Live;
using Mixscore.Live.Benchmarks;
using Mixscore.Loudness;

// How late a run's ticks begin and its sends leave (that is with the tick's own work of 96 rides), 96 sources on one desk over
// UDP, beside a bare loop that only sleeps to the same absolute times and spins the rest, by turns in the same run. The run asks
// the system for a fixed priority, which the bare loop does not. First on a quiet machine, then with all cores loaded.
//   tests/bench live [seconds]          60 s of each a part unless set
//   tests/bench live --soak [minutes]   96 sources on two desks in real time: memory and ticks over 10 minutes
GCSettings.LatencyMode = GCLatencyMode.SustainedLowLatency;
Console.WriteLine($"{RuntimeInformation.OSDescription}, {RuntimeInformation.ProcessArchitecture}, {Environment.ProcessorCount} cores, .NET {Environment.Version}");
var culture = CultureInfo.InvariantCulture;
if (args.Contains("--soak"))
{
    var minutes = args.Select(arg => double.TryParse(arg, culture, out var number) ? number : (double?)null).FirstOrDefault(number => number is not null) ?? 10;
    return Soak(TimeSpan.FromMinutes(minutes));
}

var span = TimeSpan.FromSeconds(args.Length > 0 ? double.Parse(args[0], culture) : 60);
Console.WriteLine(string.Create(culture, $"a tick of 96 sources, back to back and sent nowhere: {Figures.At(BackToBack(), 0.5) * 1e6:0.0} µs"));
const int Parts = 12;
var good = true;
foreach (var isLoaded in new[] { false, true })
{
    using var load = isLoaded ? new Load() : null;
    // By turns: what else the machine does meanwhile is the same for both.
    var (bare, run, sends, lost, expected) = (new List<double>(), new List<double>(), new List<double>(), 0L, 0L);
    for (var part = 0; part < Parts; part++)
    {
        bare.AddRange(BareLoop.Lateness(span / Parts));
        var turn = Run(span / Parts);
        run.AddRange(turn.Ticks);
        sends.AddRange(turn.Sends);
        (lost, expected) = (lost + turn.Lost, expected + turn.Expected);
    }
    Console.WriteLine(isLoaded ? "all cores loaded" : "idle");
    Print("  bare loop, wakes", bare);
    Print("  run, ticks begin", run);
    Print("  run, sends leave", sends);
    var least = Math.Max(Figures.At(bare, 0.99), 1e-6);
    var (ofTicks, ofSends) = (Figures.At(run, 0.99) / least, Figures.At(sends, 0.99) / least);
    Console.WriteLine(string.Create(culture, $"  p99 to the bare loop's: {ofTicks:0.00} of ticks, {ofSends:0.00} of sends; left out of {expected} ticks: {lost}"));
    good &= (ofTicks <= 1.5 || Figures.At(run, 0.99) < 100e-6) && lost == 0;
}
return good ? 0 : 1;

static void Print(string name, List<double> lateness) => Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
    $"{name}: median {Figures.At(lateness, 0.5) * 1e6:0} µs, p99 {Figures.At(lateness, 0.99) * 1e6:0} µs, p99.9 {Figures.At(lateness, 0.999) * 1e6:0} µs, worst {Figures.At(lateness, 1) * 1e6:0} µs"));

static List<double> BackToBack()
{
    var run = new LiveRun(Big.Plan(96), new OwnClick(), [new RunDesk(Big.Map(9), Big.Strips(96), _ => true)], new RunSettings { CountInBars = 0 });
    run.Post(RunEvent.Arm);
    run.Post(RunEvent.Start());
    var took = new List<double>(50_000);
    for (var tick = 0; tick < 50_000; tick++)
    {
        var start = Stopwatch.GetTimestamp();
        run.Tick(tick * RunSettings.Tick);
        took.Add(Stopwatch.GetElapsedTime(start).TotalSeconds);
    }
    return took;
}

static (List<double> Ticks, List<double> Sends, long Lost, long Expected) Run(TimeSpan span)
{
    using var sink = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
    var capacity = (int)(span / RunSettings.Tick) + 1000;
    var (ticks, sends) = (new List<double>(capacity), new List<double>(capacity));
    var map = Big.Map(((IPEndPoint)sink.Client.LocalEndPoint!).Port);
    using var link = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, _ => { });
    var zero = Stopwatch.GetTimestamp();
    var desk = new RunDesk(map, Big.Strips(96), values =>
    {
        var sent = link.Send(values);
        var now = Stopwatch.GetElapsedTime(zero);
        sends.Add((now.Ticks % RunSettings.Tick.Ticks) / (double)TimeSpan.TicksPerSecond);
        return sent;
    });
    var run = new LiveRun(Big.Plan(96), new OwnClick(), [desk], new RunSettings { CountInBars = 0 });
    run.Post(RunEvent.Arm);
    run.Post(RunEvent.Start());
    long lost;
    using (var ticker = new RunTicker(run, null, zero, late => ticks.Add(late.TotalSeconds)))
    {
        Thread.Sleep(span);
        lost = ticker.Lost;
    }
    return (ticks, sends, lost, ticks.Count + lost);
}

static int Soak(TimeSpan span)
{
    using var sink = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
    var map = Big.Map(((IPEndPoint)sink.Client.LocalEndPoint!).Port);
    using var first = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, _ => { });
    using var second = DeskLink.Open(map, DeskEnd.Engineer, TimeProvider.System, _ => { });
    var (start, on) = (0L, 0L);
    var run = new LiveRun(Big.Plan(96), new OwnClick(), [new RunDesk(map, Big.Strips(96), values => first.Send(values)), new RunDesk(map, Big.Strips(96), values =>
    {
        on = GC.GetAllocatedBytesForCurrentThread();
        return second.Send(values);
    })], new RunSettings { CountInBars = 0 });
    run.Post(RunEvent.Arm);
    run.Post(RunEvent.Start());
    using var ticker = new RunTicker(run);
    var chance = new Random(1);
    void Hands(TimeSpan span)
    {
        for (var clock = Stopwatch.StartNew(); clock.Elapsed < span; Thread.Sleep(200))
        {
            var source = chance.Next(96);
            run.Post(chance.Next(2) == 0 ? RunEvent.Take(source, Decibels.Of(-chance.Next(40))) : RunEvent.Back(source));
        }
    }
    // What is taken once, by the first hand or the first send, is no growth.
    Hands(TimeSpan.FromSeconds(5));
    start = Volatile.Read(ref on);
    var memory = Environment.WorkingSet;
    Hands(span);
    Console.WriteLine(string.Create(CultureInfo.InvariantCulture,
        $"{span.TotalMinutes:0.#} minutes, 96 sources on 2 desks: {Volatile.Read(ref on) - start} bytes in {span / RunSettings.Tick:0} ticks on the run's thread; working set from {memory >> 20} to {Environment.WorkingSet >> 20} MB; late ticks {ticker.Late}, left out {ticker.Lost}"));
    return Volatile.Read(ref on) == start ? 0 : 1;
}
