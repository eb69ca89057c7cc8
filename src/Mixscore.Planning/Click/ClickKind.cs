namespace Mixscore.Planning;

/// <summary>What a click marks; each has a sound of its own.</summary>
public enum ClickKind
{
    /// <summary>The first beat of a bar.</summary>
    Accent,

    /// <summary>A beat, or the first of a group of beats (the dotted beats of 6/8).</summary>
    Beat,

    /// <summary>A beat within a group, or a part of a beat.</summary>
    Subdivision,
}
