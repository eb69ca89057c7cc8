using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Transports;

/// <summary>
/// MIDI 1.0 bytes over streams: standard input and output, pipes, files. Wrong bytes are counted and passed over. Sending is
/// safe for several threads.
/// </summary>
public sealed class MidiPipe : IDisposable
{
    private readonly Stream? _output;
    private readonly Lock _sending = new();
    private readonly TaskCompletionSource _ended = new(TaskCreationOptions.RunContinuationsAsynchronously);
    private volatile bool _stopped;

    /// <summary>Begins to read.</summary>
    /// <param name="input">What is read to its end; <c>null</c> for a pipe that only sends. Not closed here.</param>
    /// <param name="output">What is written to; <c>null</c> for a pipe that only receives. Not closed here.</param>
    /// <param name="received">Takes what arrives.</param>
    public MidiPipe(Stream? input, Stream? output, MidiReceived received)
    {
        _output = output;
        if (input is null) _ended.SetResult();
        else Sockets.Listen("MIDI pipe", () => Loop(input, new MidiIntake(received, Faults)));
    }

    /// <summary>What was wrong with what arrived.</summary>
    public FaultCounts<MidiFault> Faults { get; } = new();

    /// <summary>Done when the input has ended or failed.</summary>
    public Task Ended => _ended.Task;

    /// <summary>Sends whole messages.</summary>
    /// <returns>False when there is no output or it has closed.</returns>
    public bool Send(ReadOnlySpan<byte> messages)
    {
        lock (_sending)
        {
            if (_output is null || _stopped) return false;
            try
            {
                _output.Write(messages);
                _output.Flush();
                return true;
            }
            catch (Exception problem) when (problem is IOException or ObjectDisposedException)
            {
                return false;
            }
        }
    }

    /// <summary>Hands nothing over and sends nothing from now on. A read that waits for its stream ends with the stream.</summary>
    public void Dispose() => _stopped = true;

    private void Loop(Stream input, MidiIntake intake)
    {
        var buffer = new byte[4096];
        try
        {
            for (int count; !_stopped && (count = input.Read(buffer)) > 0;)
                if (!_stopped) intake.Take(buffer.AsSpan(0, count));
        }
        catch (Exception problem) when (problem is IOException or ObjectDisposedException)
        {
            // The stream was closed under us, which ends it too.
        }
        _ended.TrySetResult();
    }
}
