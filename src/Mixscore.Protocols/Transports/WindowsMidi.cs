using System.Runtime.Versioning;
using NAudio.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>Finds MIDI devices of Windows by their names.</summary>
[SupportedOSPlatform("windows")]
public static class WindowsMidi
{
    /// <summary>Opens a device: the output of a name, and the input of the same name where there is one.</summary>
    /// <param name="name">As Windows shows it, whatever the capitals; or its number from 0.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <exception cref="IOException">There is none of that name, or it is in use.</exception>
    public static MidiPorts Open(string name, MidiReceived received)
    {
        string[] outputs = [.. Enumerable.Range(0, MidiOut.NumberOfDevices).Select(i => MidiOut.DeviceInfo(i).ProductName)];
        string[] inputs = [.. Enumerable.Range(0, MidiIn.NumberOfDevices).Select(i => MidiIn.DeviceInfo(i).ProductName)];
        if (MidiNames.Find(name, outputs) is not { } output)
            throw new IOException($"there is no MIDI device \"{name}\"; {(outputs.Length == 0 ? "there are none at all" : "there are " + string.Join(", ", outputs))}");
        try
        {
            var port = new MidiOut(output);
            try
            {
                return new MidiPorts(port, MidiNames.Find(name, inputs) is { } input ? new MidiIn(input) : null, received);
            }
            catch
            {
                port.Dispose();
                throw;
            }
        }
        catch (NAudio.MmException problem)
        {
            throw new IOException($"the MIDI device {outputs[output]} cannot be opened: {problem.Message}", problem);
        }
    }
}
