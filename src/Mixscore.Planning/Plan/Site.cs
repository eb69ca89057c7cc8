using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A place that feeds come from.</summary>
/// <param name="Name">Such as <c>north</c>.</param>
/// <param name="Link">Its radio path.</param>
/// <param name="Place">Where it stands in the plan.</param>
public sealed record Site(string Name, Link Link, Place Place)
{
    /// <summary>Which bars its players are told; <c>null</c> for what the plan says of all.</summary>
    public CallChoice? Call { get; init; }
}

/// <summary>The radio path of a site.</summary>
/// <param name="Delay">How much later than the click its feeds arrive; 0 or more.</param>
/// <param name="OnDrop">What to do with its faders when the link drops.</param>
public sealed record Link(Seconds Delay, OnDrop OnDrop)
{
    /// <summary>How much later than the click its picture is seen in the hall; <c>null</c> where none is shown.</summary>
    public Seconds? Picture { get; init; }
}

/// <summary>What happens to the faders of a site whose link drops.</summary>
/// <param name="Fades">Whether they fade; otherwise they hold where they stand.</param>
/// <param name="Over">How long a fade takes.</param>
public sealed record OnDrop(bool Fades, Seconds Over)
{
    /// <summary>Fade over 300 ms. Common practice, no source.</summary>
    public static OnDrop Usual { get; } = new(true, new Seconds(0.3));
}
