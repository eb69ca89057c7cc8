using System.Runtime.Versioning;
using Mixscore.Protocols.Transports;
using NAudio;
using NAudio.Midi;

namespace Mixscore.Desk;

/// <summary>Opens MIDI devices of Windows by their names.</summary>
[SupportedOSPlatform("windows")]
internal static class WindowsMidi
{
    /// <summary>Opens the output of a name, and the input of the same name where there is one.</summary>
    /// <param name="name">As Windows shows it, whatever the capitals; or its number from 0.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <exception cref="IOException">There is none of that name, or it is in use.</exception>
    internal static MidiPorts Open(string name, MidiReceived received)
    {
        string[] outputs = [.. Enumerable.Range(0, MidiOut.NumberOfDevices).Select(i => MidiOut.DeviceInfo(i).ProductName)];
        string[] inputs = [.. Enumerable.Range(0, MidiIn.NumberOfDevices).Select(i => MidiIn.DeviceInfo(i).ProductName)];
        if (MidiNames.Find(name, outputs) is not { } output)
            throw new IOException($"there is no MIDI device \"{name}\"; {(outputs.Length == 0 ? "there are none at all" : "there are " + string.Join(", ", outputs))}");
        MidiOut? to = null;
        MidiIn? from = null;
        try
        {
            to = new MidiOut(output);
            from = MidiNames.Find(name, inputs) is { } input ? new MidiIn(input) : null;
            return Join(to, from, received);
        }
        catch (MmException problem)
        {
            from?.Dispose();
            to?.Dispose();
            throw new IOException($"the MIDI device {outputs[output]} cannot be opened: {problem.Message}", problem);
        }
    }

    private static MidiPorts Join(MidiOut to, MidiIn? from, MidiReceived received)
    {
        var ports = new MidiPorts(message => Goes(() => to.Send(message)), exclusive => Goes(() => to.SendBuffer(exclusive)), from is null ? [to] : [from, to], received);
        if (from is null) return ports;
        from.MessageReceived += (_, arrival) => ports.Hear(arrival.RawMessage);
        from.SysexMessageReceived += (_, arrival) => ports.Hear(arrival.SysexBytes);
        from.Start();
        return ports;
    }

    private static bool Goes(Action send)
    {
        try
        {
            send();
            return true;
        }
        catch (Exception problem) when (problem is MmException or ObjectDisposedException)
        {
            return false;
        }
    }
}
