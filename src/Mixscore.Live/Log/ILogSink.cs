namespace Mixscore.Live;

/// <summary>Takes what happens in a run. Called on the run's thread: it must neither wait nor allocate.</summary>
public interface ILogSink
{
    /// <summary>Takes an entry.</summary>
    void Add(in LogEntry entry);
}
