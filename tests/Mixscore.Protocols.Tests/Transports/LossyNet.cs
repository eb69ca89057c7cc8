using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Transports;

namespace Mixscore.Protocols.Tests.Transports;

/// <summary>Two ends of an RTP-MIDI session and a bad network between them, all in virtual time and seeded.</summary>
internal sealed class LossyNet
{
    private static readonly TimeSpan Step = TimeSpan.FromMilliseconds(1);
    private readonly PriorityQueue<(RtpMidiPeer To, RtpMidiPort Port, byte[] Bytes), (TimeSpan Due, long Order)> _onTheWay = new();
    private readonly Random _random;
    private readonly double _loss;
    private readonly double _jitter;
    private long _order;

    /// <summary>A network.</summary>
    /// <param name="seed">Of all that happens by chance.</param>
    /// <param name="loss">Part of datagrams lost, 0 to 1.</param>
    /// <param name="jitterMilliseconds">Each datagram takes from 1 ms to so much more, so that they overtake each other.</param>
    /// <param name="desk">Takes what arrives at the end that waits.</param>
    public LossyNet(int seed, double loss, double jitterMilliseconds, MidiReceived desk)
    {
        (_random, _loss, _jitter) = (new Random(seed), loss, jitterMilliseconds);
        Engineer = new RtpMidiPeer(new RtpMidiIdentity("engineer", 1, 100, 65500), invites: true, Time,
            (port, bytes) => Carry(Desk!, port, bytes), _ => { });
        Desk = new RtpMidiPeer(new RtpMidiIdentity("desk", 2, 200, 7), invites: false, Time, (port, bytes) => Carry(Engineer, port, bytes), desk);
    }

    public StepTime Time { get; } = new();

    public RtpMidiPeer Engineer { get; }

    public RtpMidiPeer Desk { get; }

    /// <summary>Datagrams that never arrived.</summary>
    public int Lost { get; private set; }

    /// <summary>Packets with commands in them that were sent to the desk.</summary>
    public int CommandPackets { get; private set; }

    /// <summary>When true, every datagram is lost.</summary>
    public bool IsCut { get; set; }

    public void Run(TimeSpan span)
    {
        for (var end = Time.Now + span; Time.Now < end; Time.Step(Step))
        {
            while (_onTheWay.TryPeek(out _, out var next) && next.Due <= Time.Now)
            {
                var (to, port, bytes) = _onTheWay.Dequeue();
                to.Take(port, bytes);
            }
            if (Time.Now.Ticks % (20 * TimeSpan.TicksPerMillisecond) != 0) continue;
            Engineer.Tick();
            Desk.Tick();
        }
    }

    private void Carry(RtpMidiPeer to, RtpMidiPort port, ReadOnlySpan<byte> bytes)
    {
        if (to == Desk && RtpMidiPacket.TryRead(bytes, out var packet, out _) && packet.List.Length > 0) CommandPackets++;
        if (IsCut || _random.NextDouble() < _loss)
        {
            Lost++;
            return;
        }
        // One in a hundred comes twice.
        for (var copies = _random.Next(100) == 0 ? 2 : 1; copies > 0; copies--)
            _onTheWay.Enqueue((to, port, bytes.ToArray()), (Time.Now + TimeSpan.FromMilliseconds(1 + (_random.NextDouble() * _jitter)), _order++));
    }
}
