using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>How clear one bar is.</summary>
/// <param name="Bar">The bar.</param>
/// <param name="Lead">Who leads; <c>null</c> where no source is heard.</param>
/// <param name="Over">How far the lead stands over everything else, LU; <c>null</c> where it is silent or alone.</param>
/// <param name="Voices">How much of each voice that is heard can be understood over the rest of the mix, 0 to 1.</param>
public sealed record BarClarity(PlayedBar Bar, string? Lead, Decibels? Over, IReadOnlyList<VoiceClarity> Voices)
{
    /// <summary>How far a mark asks the lead to stand over everything else, LU; <c>null</c> where none does.</summary>
    public Decibels? Asked { get; init; }

    /// <summary>Whether a mark asks for more than is heard, by more than a figure's last place shows.</summary>
    public bool IsShort => Asked is { } asked && Over is { } over && over.Value < asked.Value - 0.05;
}

/// <summary>How much of a voice can be understood.</summary>
/// <param name="Source">The voice.</param>
/// <param name="Index">The Speech Intelligibility Index over the rest of the mix, 0 to 1.</param>
public sealed record VoiceClarity(string Source, double Index);
