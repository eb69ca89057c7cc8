using System.Diagnostics;

namespace Mixscore.Loudness.Benchmarks;

/// <summary>Runs tasks by turns, round after round, and keeps the nanoseconds that each took for a sample.</summary>
/// <param name="ofProcessor">Whether time is that of this process on the processors: on a machine that others use too, the wall's
/// clock counts their work as well. It says nothing of work on several cores.</param>
internal sealed class Stopwatches(bool ofProcessor)
{
    private readonly List<(string Name, long Samples, Action Run, List<double> Times)> _tasks = [];

    /// <param name="name">What it is called.</param>
    /// <param name="samples">How many samples it goes through.</param>
    /// <param name="run">Does it once.</param>
    public void Add(string name, long samples, Action run) => _tasks.Add((name, samples, run, []));

    /// <summary>Whether there is such a task.</summary>
    public bool Has(string name) => _tasks.Exists(task => task.Name == name);

    public void Run(int rounds)
    {
        for (var round = 0; round < rounds; round++)
        {
            foreach (var (_, samples, run, times) in _tasks)
            {
                GC.Collect();
                var begun = Now();
                run();
                times.Add((Now() - begun).TotalNanoseconds / samples);
            }
        }
    }

    private TimeSpan Now() => ofProcessor ? Environment.CpuUsage.TotalTime : Stopwatch.GetElapsedTime(0);

    /// <summary>Median over the rounds.</summary>
    public double this[string name] => Median([.. _tasks.Single(task => task.Name == name).Times]);

    /// <summary>Median over the rounds of the ratio in a round: what the machine does meanwhile touches both.</summary>
    public double Ratio(string slow, string quick)
    {
        var (s, q) = (_tasks.Single(task => task.Name == slow).Times, _tasks.Single(task => task.Name == quick).Times);
        return Median([.. s.Zip(q, (a, b) => a / b)]);
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values.Length % 2 == 1 ? values[values.Length / 2] : (values[values.Length / 2 - 1] + values[values.Length / 2]) / 2;
    }
}
