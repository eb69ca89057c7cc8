using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>What a hand did and the fold leaves out.</summary>
/// <param name="Source">On which source.</param>
/// <param name="From">The beat on which it began, or before.</param>
/// <param name="To">The beat by which it had ended.</param>
/// <param name="Because">Why.</param>
/// <param name="Night">In which night; <c>null</c> for several.</param>
public sealed record LeftOut(string Source, Position From, Position To, LeftOutBecause Because, FoldNight? Night)
{
    /// <summary>Why, in words.</summary>
    public string Reason => Because switch
    {
        LeftOutBecause.Slip => "moved and moved back within a beat",
        LeftOutBecause.Small => "a small correction",
        LeftOutBecause.HeldWithAll => "held with all others",
        LeftOutBecause.FeedGone => "its feed was gone",
        LeftOutBecause.NothingSounds => "nothing sounds there in its stem, so no level can be told",
        _ => "no marks were found with which the fit does the same",
    };
}

/// <summary>Why something is left out.</summary>
public enum LeftOutBecause
{
    /// <summary>Moved and moved back within a beat.</summary>
    Slip,

    /// <summary>A correction smaller than the tolerance.</summary>
    Small,

    /// <summary>All faders were held.</summary>
    HeldWithAll,

    /// <summary>The feed was gone.</summary>
    FeedGone,

    /// <summary>The stem holds no sound there.</summary>
    NothingSounds,

    /// <summary>No marks were found that do the same.</summary>
    NotReached,
}
