namespace Mixscore.Live.Benchmarks;

/// <summary>Keeps every core at work.</summary>
internal sealed class Load : IDisposable
{
    private readonly Thread[] _threads;
    private volatile bool _stopped;

    internal Load()
    {
        _threads = [.. Enumerable.Range(0, Environment.ProcessorCount).Select(_ => new Thread(() =>
        {
            var sum = 0.0;
            while (!_stopped) sum += Math.Sqrt(sum + 1);
        }) { IsBackground = true })];
        foreach (var thread in _threads) thread.Start();
    }

    public void Dispose()
    {
        _stopped = true;
        foreach (var thread in _threads) thread.Join();
    }
}
