using Mixscore.Planning;

namespace Mixscore.Audio;

/// <summary>Something that speaks.</summary>
public interface ICallVoice
{
    /// <summary>How many paces it has, from an easy one at 0 to the quickest that can be understood.</summary>
    int Paces { get; }

    /// <summary>What it says, from the first sound to the last; <c>null</c> where it cannot.</summary>
    /// <param name="part">What to say.</param>
    /// <param name="pace">From 0.</param>
    /// <returns>Samples at <see cref="ClickTrack.SampleRate"/>, full scale 1.</returns>
    float[]? Say(CallPart part, int pace);
}
