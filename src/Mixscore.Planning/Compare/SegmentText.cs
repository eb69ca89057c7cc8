namespace Mixscore.Planning;

/// <summary>A segment of a level line as the plan's language writes it.</summary>
internal static class SegmentText
{
    internal static string Of(LevelSegment segment) => segment switch
    {
        { Mark: null } => "off",
        LevelSegment.Straight { IsHeld: false, Mark: { } move } => MarkText.Write(move),
        { Mark: { } held } => MarkText.Write(held with { Start = held.End }),
    };
}
