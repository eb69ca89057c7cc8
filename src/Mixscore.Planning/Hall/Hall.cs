using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The plan's <c>hall:</c>: the place where the mix is heard.</summary>
public sealed record Hall
{
    /// <summary>Its name, which is its file's in <c>halls/</c>; <c>null</c> where none is given.</summary>
    public string? Name { get; init; }

    /// <summary>The temperature of its air, in degrees Celsius.</summary>
    public double Temperature { get; init; } = 20;

    /// <summary>The loudspeakers, and how far each stands from the listening place.</summary>
    public IReadOnlyList<Loudspeaker> Loudspeakers { get; init; } = [];

    /// <summary>What was measured at the listening place; <c>null</c> where nothing was.</summary>
    public Calibration? Calibration { get; init; }
}

/// <summary>A loudspeaker.</summary>
/// <param name="Name">Such as <c>left</c>.</param>
/// <param name="Metres">From the listening place; 0 or more.</param>
public sealed record Loudspeaker(string Name, double Metres);

/// <summary>A measurement at the listening place: this stretch of the mix, played in the hall, gave this level.</summary>
/// <param name="From">Where the stretch begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="Level">The equivalent level LAeq over the stretch, in dB(A), by a sound level meter.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record Calibration(Position From, Position To, double Level, Place Place);
