using System.Reactive.Concurrency;
using Mixscore.Desk;
using Mixscore.Protocols.Transports;

namespace Mixscore.Live;

/// <summary>A desk of a session, on its wire.</summary>
internal sealed class LiveDesk : IDisposable
{
    private readonly DeskLink _link;
    private readonly DeskSender? _sender;
    private IDisposable? _watching;

    private LiveDesk(DeskLink link, LivePlan plan, bool isController)
    {
        _link = link;
        // A datagram is handed to the system and that is all; every other wire may make its sender wait.
        if (link.Map.To.Carrier != Carrier.Udp) _sender = new DeskSender(link);
        var strips = plan.Sources.Select(source => link.Has(StripPart.Fader, source.Source.Strip) ? source.Source.Strip : 0);
        Desk = new RunDesk(link.Map, [.. strips], _sender is { } sender ? sender.Send : values => link.Send(values), isController);
    }

    /// <summary>The run's side of it.</summary>
    internal RunDesk Desk { get; }

    /// <summary>Opens it.</summary>
    /// <exception cref="IOException">A host, port or device is not available.</exception>
    /// <exception cref="UnauthorizedAccessException">A device may not be opened.</exception>
    internal static LiveDesk Open(DeskMap map, LivePlan plan, TimeProvider time, Action<StripValue> received, MidiReceived? midi, bool isController = false) =>
        new(DeskLink.Open(map, DeskEnd.Engineer, time, received, midi), plan, isController);

    /// <summary>What waits for room on its wire.</summary>
    internal DeskBehind Behind => _link.Behind;

    /// <summary>Tells the run whether the wire is open, whenever that changes; one that was closed and opened between two looks was closed too.</summary>
    internal void Watch(Action<bool> told) =>
        _watching = WireWatch.Of(() => _link.IsReady, () => _link.Opened, DefaultScheduler.Instance).Subscribe(told);

    public void Dispose()
    {
        _watching?.Dispose();
        _sender?.Dispose();
        _link.Dispose();
    }
}
