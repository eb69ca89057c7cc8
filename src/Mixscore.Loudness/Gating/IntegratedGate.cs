namespace Mixscore.Loudness;

/// <summary>Integrated loudness from gating blocks. Source: ITU-R BS.1770-5, Annex 1, eq. 3 to 7.</summary>
internal sealed class IntegratedGate
{
    // Blocks that the absolute gate stops can never count later, so they are not kept.
    private readonly BlockStore _loud = new();
    private double _sum;

    public void Add(double meanSquare)
    {
        if (!(meanSquare > Gates.Absolute)) return;
        _loud.Add(meanSquare);
        _sum += meanSquare;
    }

    /// <summary>The loudness of all blocks of all gates together; <c>null</c> when none is above the absolute gate.</summary>
    public static Lufs? Loudness(params ReadOnlySpan<IntegratedGate> gates)
    {
        double sum = 0;
        long count = 0;
        foreach (var gate in gates)
        {
            sum += gate._sum;
            count += gate._loud.Count;
        }
        if (count == 0) return null;
        var threshold = Gates.RelativeForIntegrated * (sum / count);
        (sum, count) = (0, 0);
        foreach (var gate in gates)
        {
            for (var piece = 0; piece < gate._loud.Pieces; piece++)
            {
                foreach (var meanSquare in gate._loud.Piece(piece))
                {
                    if (!(meanSquare > threshold)) continue;
                    sum += meanSquare;
                    count++;
                }
            }
        }
        return Lufs.FromMeanSquare(sum / count);
    }
}
