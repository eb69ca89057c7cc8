using System.Diagnostics;
using System.Globalization;
using Mixscore.Planning;
using Mixscore.Planning.Benchmarks;

// What the fit costs: processor seconds, which are those of one core, also where others use the machine; wall seconds on all
// cores; and how both grow. `short` leaves out the largest case.
CultureInfo.CurrentCulture = CultureInfo.InvariantCulture;
const int Sources = 12;
const double Minutes = 30;
for (var i = 0; i < 12; i++) Fit(6, 15);   // the compiler's own time is not the fit's

Console.WriteLine($"{Environment.ProcessorCount} cores, {System.Runtime.InteropServices.RuntimeInformation.FrameworkDescription}");
Console.WriteLine($"{"sources",8} {"minutes",8} {"beats",7} {"cpu s",8} {"wall s",8} {"vertices",9}");
var main = Print(Enumerable.Range(0, 3).Select(_ => Fit(Sources, Minutes)).MinBy(run => run.Processor)!);
Console.WriteLine($"one core: {main.Processor:0.00} s, {(main.Processor < 1 ? "under" : "over")} 1 s");

var lengths = new[] { 7.5, 15, 30, 60, 120 }.Select(minutes => Print(Fit(Sources, minutes))).ToArray();
Console.WriteLine($"growth with length: n^{Exponent([.. lengths.Select(run => ((double)run.Beats, run.Processor))]):0.00}");
var counts = new[] { 6, 12, 24, 48 }.Select(sources => Print(Fit(sources, Minutes))).ToArray();
Console.WriteLine($"growth with sources: n^{Exponent([.. counts.Select(run => ((double)run.Sources, run.Processor))]):0.00}");
var alone = new[] { 7.5, 15, 30, 60, 120 }.Select(minutes => Print(Fit(Sources, minutes, neverOff: true))).ToArray();
Console.WriteLine($"growth with length, never off: n^{Exponent([.. alone.Select(run => ((double)run.Beats, run.Processor))]):0.00}");
if (!args.Contains("short"))
{
    var large = Print(Fit(96, 180));
    Console.WriteLine($"{large.Processor / large.Wall:0.0} cores used; {large.Processor / 2:0.0} s a core on two, {(large.Processor / 2 < 20 ? "under" : "over")} 20 s; {large.Wall:0.0} s by the wall here");
}

static Run Fit(int sources, double minutes, bool neverOff = false)
{
    var timeline = LongNight.Timeline(LongNight.Beats(minutes));
    SourceToFit[] all = [.. Enumerable.Range(1, sources).Select(number => LongNight.Source(number, timeline, neverOff))];
    GC.Collect();
    using var process = Process.GetCurrentProcess();
    var (before, watch) = (process.TotalProcessorTime, Stopwatch.StartNew());
    var fitted = RideFitter.Fit(timeline, new Limits(), all);
    watch.Stop();
    process.Refresh();
    return new Run(sources, minutes, timeline.BeatGrid.Count - 1, (process.TotalProcessorTime - before).TotalSeconds, watch.Elapsed.TotalSeconds, fitted.Sum(source => source.Ride.Vertices.Count));
}

static Run Print(Run run)
{
    Console.WriteLine($"{run.Sources,8} {run.Minutes,8:0.#} {run.Beats,7} {run.Processor,8:0.00} {run.Wall,8:0.00} {run.Vertices,9}");
    return run;
}

// The slope of the least-squares line through the logarithms.
static double Exponent((double Size, double Cost)[] runs)
{
    var (x, y) = (runs.Select(run => Math.Log(run.Size)).ToArray(), runs.Select(run => Math.Log(run.Cost)).ToArray());
    var (mx, my) = (x.Average(), y.Average());
    return x.Zip(y, (a, b) => (a - mx) * (b - my)).Sum() / x.Sum(a => (a - mx) * (a - mx));
}

internal sealed record Run(int Sources, double Minutes, int Beats, double Processor, double Wall, int Vertices);
