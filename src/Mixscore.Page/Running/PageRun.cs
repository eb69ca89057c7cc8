using Mixscore.Live;

namespace Mixscore.Page;

/// <summary>What a page shows and orders: a rehearsal or a performance. Whoever listens is called on a thread of the run's choice and must not wait.</summary>
public abstract class PageRun
{
    /// <summary>Takes each block of sound.</summary>
    internal event Action<SoundBlock>? Sounded;

    /// <summary>Fifty times a second: <see cref="Values"/> are new.</summary>
    internal event Action? Reported;

    /// <summary><see cref="State"/> is new.</summary>
    internal event Action? Changed;

    /// <summary>Something happened that a person is told, as a message for the page.</summary>
    internal event Action<byte[]>? Told;

    /// <summary>Whether it is a performance: marks are locked, and there is no sound.</summary>
    internal abstract bool IsPerformance { get; }

    /// <summary>Frames of sound a second; 0 for no sound.</summary>
    internal abstract int Rate { get; }

    /// <summary>What tells where the piece is.</summary>
    internal virtual ClockKind Clock => ClockKind.Click;

    /// <summary>Where everything is, as a frame for the page; asked for while <see cref="Reported"/> is being told.</summary>
    internal abstract byte[] Values();

    /// <summary>What changes seldom, as a message for the page.</summary>
    internal abstract byte[] State();

    /// <summary>What has been told of late, the oldest first; for a page that comes later.</summary>
    internal virtual IReadOnlyList<byte[]> Recent => [];

    /// <summary>Takes an order from any thread.</summary>
    /// <returns>Why not, in words; <c>null</c> when it is taken.</returns>
    internal abstract string? Post(Order order);

    private protected void Sound(SoundBlock block) => Sounded?.Invoke(block);

    private protected void Report() => Reported?.Invoke();

    private protected void Change() => Changed?.Invoke();

    private protected void Tell(byte[] message) => Told?.Invoke(message);
}
