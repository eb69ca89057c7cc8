using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// MIDI through an operating system that takes and gives messages instead of bytes; what speaks to it is given. Wrong bytes are
/// counted and passed over. Safe for several threads; takes no memory but for system exclusive messages.
/// </summary>
public sealed class MidiPorts : IDisposable
{
    private readonly Func<int, bool> _send;
    private readonly Func<byte[], bool> _sendExclusive;
    private readonly IReadOnlyList<IDisposable> _devices;
    private readonly MidiIntake _intake;
    private readonly MidiParser _sending = new();
    private readonly Lock _gate = new();
    private volatile bool _stopped;

    /// <summary>Takes over ports that are open.</summary>
    /// <param name="send">Sends a short message, its status in the lowest byte and the data above it; false when the port has gone.</param>
    /// <param name="sendExclusive">Sends a system exclusive message with F0 and F7; false when the port has gone.</param>
    /// <param name="devices">What to close, in order.</param>
    /// <param name="received">Takes what arrives.</param>
    public MidiPorts(Func<int, bool> send, Func<byte[], bool> sendExclusive, IReadOnlyList<IDisposable> devices, MidiReceived received) =>
        (_send, _sendExclusive, _devices, _intake) = (send, sendExclusive, devices, new MidiIntake(received, Faults));

    /// <summary>What was wrong with what arrived.</summary>
    public FaultCounts<MidiFault> Faults { get; } = new();

    /// <summary>True until a port goes away or it is disposed of.</summary>
    public bool IsOpen => !_stopped;

    /// <summary>Sends whole messages.</summary>
    /// <returns>False when the port has gone.</returns>
    public bool Send(ReadOnlySpan<byte> messages)
    {
        lock (_gate)
        {
            while (!_stopped && _sending.Read(ref messages, out var message))
                if (!Send(message)) _stopped = true;
            return !_stopped;
        }
    }

    /// <summary>Takes a short message that has come in, packed as it is sent.</summary>
    public void Hear(int message)
    {
        var status = message & 0xFF;
        if (status < 0x80 || _stopped) return;
        ReadOnlySpan<byte> bytes = [(byte)status, (byte)(message >> 8), (byte)(message >> 16)];
        lock (_intake) _intake.Take(bytes[..(1 + MidiMessage.DataBytes(status))]);
    }

    /// <summary>Takes a system exclusive message that has come in, with F0 and F7, or a part of one.</summary>
    public void Hear(ReadOnlySpan<byte> exclusive)
    {
        if (_stopped) return;
        lock (_intake) _intake.Take(exclusive);
    }

    /// <summary>Closes the ports.</summary>
    public void Dispose()
    {
        _stopped = true;
        foreach (var device in _devices) device.Dispose();
    }

    private bool Send(MidiMessage message)
    {
        if (message.Kind == MidiKind.SystemExclusive) return _sendExclusive([0xF0, .. _sending.Exclusive, 0xF7]);
        Span<byte> bytes = stackalloc byte[3];
        bytes.Clear();
        message.Write(bytes);
        return _send(bytes[0] | (bytes[1] << 8) | (bytes[2] << 16));
    }
}
