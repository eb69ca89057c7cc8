using System.Runtime.InteropServices;
using Mixscore.Protocols.Midi;
using NAudio.Midi;
using MidiMessage = Mixscore.Protocols.Midi.MidiMessage;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// MIDI through the ports of an operating system that takes and gives messages instead of bytes. Wrong bytes are counted and
/// passed over. Sending is safe for several threads, and takes no memory but for system exclusive messages.
/// </summary>
public sealed class MidiPorts : IDisposable
{
    private readonly IMidiOutput _output;
    private readonly IMidiInput? _input;
    private readonly MidiIntake _intake;
    private readonly MidiParser _sending = new();
    private readonly Lock _gate = new();
    private volatile bool _stopped;

    /// <summary>Takes over two ports and begins to hear.</summary>
    /// <param name="output">Where messages go.</param>
    /// <param name="input">Where they come from; <c>null</c> for a desk that says nothing.</param>
    /// <param name="received">Takes what arrives.</param>
    public MidiPorts(IMidiOutput output, IMidiInput? input, MidiReceived received)
    {
        (_output, _input, _intake) = (output, input, new MidiIntake(received, Faults));
        if (input is null) return;
        input.MessageReceived += (_, arrival) => Take(arrival.RawMessage);
        input.SysexMessageReceived += (_, arrival) => Take(arrival.SysexBytes);
        input.Start();
    }

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
            if (_stopped) return false;
            try
            {
                while (_sending.Read(ref messages, out var message)) Send(message);
                return true;
            }
            catch (Exception problem) when (problem is NAudio.MmException or ExternalException or ObjectDisposedException or InvalidOperationException)
            {
                _stopped = true;
                return false;
            }
        }
    }

    /// <summary>Stops hearing and closes both ports.</summary>
    public void Dispose()
    {
        _stopped = true;
        _input?.Dispose();
        _output.Dispose();
    }

    private void Send(MidiMessage message)
    {
        if (message.Kind == MidiKind.SystemExclusive)
        {
            _output.SendBuffer([0xF0, .. _sending.Exclusive, 0xF7]);
            return;
        }
        // The status in the lowest byte, the data above it: midiOutShortMsg of the Windows multimedia interface.
        Span<byte> bytes = stackalloc byte[4];
        bytes.Clear();
        message.Write(bytes);
        _output.Send(bytes[0] | (bytes[1] << 8) | (bytes[2] << 16));
    }

    private void Take(int raw)
    {
        var status = raw & 0xFF;
        if (status < 0x80 || _stopped) return;
        Span<byte> bytes = [(byte)status, (byte)(raw >> 8), (byte)(raw >> 16)];
        lock (_intake) _intake.Take(bytes[..(1 + MidiMessage.DataBytes(status))]);
    }

    private void Take(byte[] exclusive)
    {
        if (_stopped) return;
        lock (_intake) _intake.Take(exclusive);
    }
}
