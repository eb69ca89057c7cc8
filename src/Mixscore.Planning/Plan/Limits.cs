using Mixscore.Loudness;

namespace Mixscore.Planning;

/// <summary>What a fader may do, and what the mix may reach.</summary>
public sealed record Limits
{
    /// <summary>The lowest gain that a fader has before it is off.</summary>
    public Decibels Bottom { get; init; } = Decibels.Of(-60);

    /// <summary>The highest gain that a fader has.</summary>
    public Decibels Top { get; init; } = Decibels.Of(10);

    /// <summary>How fast planned moves and glides may be, in dB a second; above 0.</summary>
    public double Speed { get; init; } = 24;

    /// <summary>How fast a hand's move may be, in dB a second; above 0.</summary>
    public double Hand { get; init; } = 120;

    /// <summary>The integrated loudness that the mix must not exceed; <c>null</c> for none.</summary>
    public Lufs? Loudness { get; init; }

    /// <summary>The true peak that the mix must stay under, in dB relative to full scale.</summary>
    public Decibels TruePeak { get; init; } = Decibels.Of(-1);
}
