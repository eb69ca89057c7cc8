using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>How a desk to practise on behaves. The figures are our own choice, not any desk's.</summary>
public sealed record PracticeHabits
{
    /// <summary>From a move's arrival until the desk reports it; 40 ms unless set.</summary>
    public TimeSpan Late { get; init; } = TimeSpan.FromMilliseconds(40);

    /// <summary>How many places a fader can report over the whole of its travel; 1024 unless set.</summary>
    public int Places { get; init; } = 1024;

    /// <summary>How often meters are sent; 50 ms unless set.</summary>
    public TimeSpan MetersEvery { get; init; } = TimeSpan.FromMilliseconds(50);

    /// <summary>What every strip is fed with until told otherwise; −18 dB unless set.</summary>
    public Decibels Fed { get; init; } = Decibels.Of(-18);
}
