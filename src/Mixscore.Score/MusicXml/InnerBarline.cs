namespace Mixscore.Score;

/// <summary>The signs of a barline inside a bar: what ends there and what begins.</summary>
internal sealed class InnerBarline
{
    internal bool RepeatStarts { get; set; }

    /// <summary>How often the section that ends here is played; 1 where none ends.</summary>
    internal int Plays { get; set; } = 1;

    internal bool RepeatsAfterJump { get; set; }

    /// <summary>The passes of the ending that begins here; <c>null</c> where none begins.</summary>
    internal IReadOnlyList<int>? EndingStart { get; set; }

    internal bool EndingStops { get; set; }
}
