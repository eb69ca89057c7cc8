namespace Mixscore.Planning;

/// <summary>What a segment of a level line asks for.</summary>
internal static class AskedLevel
{
    /// <summary>
    /// The level that a segment asks for at a place, which may be its end too; LU over the reference. <c>null</c> where it
    /// is off, and where it leans on what is not heard.
    /// </summary>
    public static double? At(LevelLine line, LevelSegment segment, double quarters, HeardTogether heard)
    {
        switch (segment)
        {
            case LevelSegment.Straight { Start: { } held, IsHeld: true }:
                return held.Value;
            case LevelSegment.Straight straight:
                var (start, end) = (straight.Start ?? line.Bottom, straight.End ?? line.Bottom);
                return start.Value + (end.Value - start.Value) * Part(segment, quarters);
            case LevelSegment.Leaning lean:
                return heard(lean.Sources, quarters) + lean.By.Value;
            default:
                return null;
        }
    }

    /// <summary>How far into a segment a place lies, from 0 to 1.</summary>
    public static double Part(LevelSegment segment, double quarters) =>
        Math.Clamp((quarters - segment.From.ToDouble()) / (segment.To - segment.From).ToDouble(), 0, 1);

    /// <summary>Whether the source is off where a segment begins.</summary>
    public static bool StartsOff(LevelSegment segment) => segment is LevelSegment.Off or LevelSegment.Straight { Start: null };

    /// <summary>Whether the source is off where a segment ends.</summary>
    public static bool EndsOff(LevelSegment segment) => segment is LevelSegment.Off or LevelSegment.Straight { End: null };
}
