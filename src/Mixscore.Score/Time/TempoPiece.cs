namespace Mixscore.Score;

/// <summary>
/// A stretch of the played score in which the tempo is constant or changes in a straight line over quarters.
/// </summary>
/// <param name="From">Where it begins.</param>
/// <param name="StartTempo">Quarters a minute at its beginning, above zero.</param>
/// <param name="EndTempo">Quarters a minute at its end, above zero; equal to the start where the tempo is constant.</param>
public readonly record struct TempoPiece(Quarters From, double StartTempo, double EndTempo)
{
    /// <summary>A stretch of constant tempo.</summary>
    public TempoPiece(Quarters from, double tempo) : this(from, tempo, tempo)
    {
    }

    /// <summary>Whether the tempo does not move.</summary>
    public bool IsConstant => StartTempo == EndTempo;
}
