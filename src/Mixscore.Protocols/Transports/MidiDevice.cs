using System.Runtime.InteropServices;
using Microsoft.Win32.SafeHandles;
using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// A raw MIDI device of a Unix system, such as <c>/dev/snd/midiC1D0</c>: bytes in and out of a file. Wrong bytes are counted and
/// passed over. Sending is safe for several threads.
/// </summary>
public sealed class MidiDevice : IDisposable
{
    private const int PollMilliseconds = 50;
    private readonly SafeFileHandle _file;
    private readonly FileStream _bytes;
    private readonly Lock _sending = new();
    private readonly Thread _thread;
    private volatile bool _stopped;

    /// <summary>Opens the device and begins to read.</summary>
    /// <param name="path">The device.</param>
    /// <param name="received">Takes what arrives.</param>
    /// <exception cref="IOException">It is not there or is in use.</exception>
    /// <exception cref="UnauthorizedAccessException">It may not be opened.</exception>
    /// <exception cref="PlatformNotSupportedException">The system has no such devices.</exception>
    public MidiDevice(string path, MidiReceived received)
    {
        if (OperatingSystem.IsWindows()) throw new PlatformNotSupportedException("MIDI devices are no files on this system");
        _file = File.OpenHandle(path, FileMode.Open, FileAccess.ReadWrite, FileShare.ReadWrite);
        // Without a buffer: each read takes what is there, each write goes out at once.
        _bytes = new FileStream(_file, FileAccess.ReadWrite, bufferSize: 0);
        Path = path;
        var intake = new MidiIntake(received, Faults);
        _thread = Sockets.Listen($"MIDI {path}", () => Loop(intake));
    }

    /// <summary>The device.</summary>
    public string Path { get; }

    /// <summary>What was wrong with what arrived.</summary>
    public FaultCounts<MidiFault> Faults { get; } = new();

    /// <summary>True until the device goes away or it is disposed of.</summary>
    public bool IsOpen => !_stopped;

    /// <summary>Sends whole messages.</summary>
    /// <returns>False when the device has gone.</returns>
    public bool Send(ReadOnlySpan<byte> messages)
    {
        lock (_sending)
        {
            if (_stopped) return false;
            try
            {
                _bytes.Write(messages);
                return true;
            }
            catch (Exception problem) when (problem is IOException or ObjectDisposedException)
            {
                _stopped = true;
                return false;
            }
        }
    }

    /// <summary>Stops reading and closes the device.</summary>
    public void Dispose()
    {
        _stopped = true;
        Sockets.WaitFor(_thread);
        _bytes.Dispose();
        _file.Dispose();
    }

    private void Loop(MidiIntake intake)
    {
        var buffer = new byte[4096];
        try
        {
            while (!_stopped)
            {
                // A read would wait for ever, and closing the file does not wake it.
                if (!IsReadable()) continue;
                var count = _bytes.Read(buffer);
                if (count == 0) break;
                if (!_stopped) intake.Take(buffer.AsSpan(0, count));
            }
        }
        catch (Exception problem) when (problem is IOException or ObjectDisposedException)
        {
            // The device was unplugged.
        }
        _stopped = true;
    }

    private bool IsReadable()
    {
        var wanted = new PollFd { Descriptor = (int)_file.DangerousGetHandle(), Events = PollFd.In };
        return poll(ref wanted, 1, PollMilliseconds) > 0;
    }

    // POSIX.1-2017, poll(): struct pollfd, POLLIN.
    [StructLayout(LayoutKind.Sequential)]
    private struct PollFd
    {
        internal const short In = 1;
        internal int Descriptor;
        internal short Events;
        internal short Answer;
    }

    [DllImport("libc", SetLastError = true), DefaultDllImportSearchPaths(DllImportSearchPath.SafeDirectories)]
    private static extern int poll(ref PollFd descriptors, nuint count, int milliseconds);
}
