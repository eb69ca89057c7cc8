using System.Diagnostics;
using Mixscore.Score;
using Mixscore.Score.Benchmarks;

// score-benchmarks: prints the figures. score-benchmarks read FILE: reads one score and ends, to be timed as a process.
if (args is ["read", var file])
{
    Console.WriteLine(TimelineBuilder.Build(ScoreFile.Read(file)).Timeline.Bars.Count);
    return 0;
}

var good = true;
if (SharedScores.Largest() is { } largest)
{
    Console.WriteLine($"{Path.GetFileName(largest)}, {new FileInfo(largest).Length / 1024} KB, the score here that takes longest:");
    var warm = Timing.Median(15, () => TimelineBuilder.Build(ScoreFile.Read(largest)));
    var cold = Timing.Median(5, () => Run(largest));
    good &= Print("  read and laid out, warm", warm, 300) & Print("  as a process, cold", cold, 1000);
}
else Console.WriteLine("the shared scores are not here: set MIXSCORE_SHARED, or lay shared/scores beside the repository");

int[] sizes = [100, 1000, 10_000];
var times = new List<double>();
Console.WriteLine("A made score of two parts, with repeats:");
foreach (var bars in sizes)
{
    var score = MadeScore.Of(bars);
    times.Add(Timing.Median(bars > 1000 ? 7 : 21, () => TimelineBuilder.Build(ScoreFile.Read(new MemoryStream(score), "made"))));
    Console.WriteLine(FormattableString.Invariant($"  {bars,6} bars {times[^1],9:0.00} ms"));
}
// The slope of a straight line through the logarithms of size and time (least squares).
var exponent = Timing.Slope([.. sizes.Select(size => Math.Log(size))], [.. times.Select(time => Math.Log(time))]);
Console.WriteLine(FormattableString.Invariant($"  time grows as bars to the power of {exponent:0.00} (1 is linear; wanted: at most 1.15)"));
return good && exponent <= 1.15 ? 0 : 1;

static bool Print(string what, double milliseconds, double most)
{
    Console.WriteLine(FormattableString.Invariant($"{what,-26} {milliseconds,7:0.0} ms (wanted: under {most:0})"));
    return milliseconds < most;
}

static void Run(string file)
{
    using var process = Process.Start(new ProcessStartInfo(Environment.ProcessPath!, ["read", file]) { RedirectStandardOutput = true })!;
    process.StandardOutput.ReadToEnd();
    process.WaitForExit();
    if (process.ExitCode != 0) throw new InvalidOperationException($"{file} was not read");
}
