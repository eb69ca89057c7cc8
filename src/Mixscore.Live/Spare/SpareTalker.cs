using Mixscore.Protocols.Transports;

namespace Mixscore.Live;

/// <summary>Lets a run talk with another, from a thread that is not kept waiting by others' work: silence would be taken for its end.</summary>
internal sealed class SpareTalker : IDisposable
{
    private readonly ManualResetEventSlim _ends = new();
    private readonly Thread _thread;

    internal SpareTalker(SpareTalk talk, OscUdp udp, Func<TimeSpan> now)
    {
        _thread = new Thread(() =>
        {
            RunTicker.AskForPriority();
            while (!_ends.Wait(SpareTalk.Pace)) talk.Tell(now(), (packet, to) => udp.Send(packet, to));
        })
        { IsBackground = true, Name = "spare", Priority = ThreadPriority.AboveNormal };
        _thread.Start();
    }

    public void Dispose()
    {
        _ends.Set();
        _thread.Join();
        _ends.Dispose();
    }
}
