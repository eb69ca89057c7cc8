namespace Mixscore.Live;

/// <summary>What a run is of two that know of each other.</summary>
public enum SpareRole
{
    /// <summary>It moves the faders.</summary>
    Performs,

    /// <summary>It holds the state of the one that does, and sends nothing.</summary>
    Follows,
}

/// <summary>What can be seen of a run's other.</summary>
/// <param name="Role">What this one is.</param>
/// <param name="Term">How often the role has changed hands; the one with the higher term performs.</param>
/// <param name="IsKnown">Whether another was ever heard.</param>
/// <param name="Silent">For how long nothing has come from it; zero where none is known.</param>
/// <param name="IsStandingIn">Whether this one follows, hears nobody, and will move the faders as soon as one is to move.</param>
/// <param name="DeskSilent">For how long the other has not heard its desk; zero where that is not known.</param>
public readonly record struct SpareView(SpareRole Role, int Term, bool IsKnown, TimeSpan Silent, bool IsStandingIn, TimeSpan DeskSilent);
