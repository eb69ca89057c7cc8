using System.Collections.Concurrent;
using System.Net;
using Mixscore.Protocols.Midi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

/// <summary>What came over real sockets and pipes on this machine; waits for it and gives up after ten seconds.</summary>
internal sealed class Arrivals<T> : IDisposable
{
    private readonly BlockingCollection<T> _arrived = [];

    public void Add(T one) => _arrived.Add(one);

    public T Next() => _arrived.TryTake(out var one, TimeSpan.FromSeconds(10)) ? one : throw new TimeoutException("nothing came in ten seconds");

    public T[] Next(int count) => [.. Enumerable.Range(0, count).Select(_ => Next())];

    public int Left => _arrived.Count;

    public void Dispose() => _arrived.Dispose();
}

internal static class Waiting
{
    public static IPEndPoint AnyPort => new(IPAddress.Loopback, 0);

    public static void Until(Func<bool> condition) =>
        Assert.True(SpinWait.SpinUntil(condition, TimeSpan.FromSeconds(10)), "it did not come about in ten seconds");

    public static MidiReceived Into(Arrivals<string> arrivals) =>
        arrival => arrivals.Add(arrival.Exclusive.IsEmpty ? $"{arrival.Message}" : $"f0 {Convert.ToHexStringLower(arrival.Exclusive)} f7");

    public static MidiMessage Control(int controller, int value) => MidiMessage.ControlChange(new MidiChannel(1), new Midi7(controller), new Midi7(value));
}
