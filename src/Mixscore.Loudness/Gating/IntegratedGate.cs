namespace Mixscore.Loudness;

/// <summary>Integrated loudness from gating blocks. Source: ITU-R BS.1770-5, Annex 1, eq. 3 to 7.</summary>
internal sealed class IntegratedGate(History history = History.Exact)
{
    // Blocks that the absolute gate stops can never count later, so they are not kept.
    private readonly BlockStore? _loud = history == History.Exact ? new() : null;
    private readonly LevelHistogram? _levels = history == History.Bounded ? new() : null;
    private double _sum;
    private long _count;

    public void Add(double meanSquare)
    {
        if (!(meanSquare > Gates.Absolute)) return;
        _loud?.Add(meanSquare);
        _levels?.Add(meanSquare);
        _sum += meanSquare;
        _count++;
    }

    /// <summary>The loudness of all blocks of all gates together; <c>null</c> when none is above the absolute gate.</summary>
    public static Lufs? Loudness(params ReadOnlySpan<IntegratedGate> gates)
    {
        double sum = 0;
        long count = 0;
        foreach (var gate in gates)
        {
            sum += gate._sum;
            count += gate._count;
        }
        if (count == 0) return null;
        var threshold = Gates.RelativeForIntegrated * (sum / count);
        (sum, count) = (0, 0);
        foreach (var gate in gates) gate.AddAbove(threshold, ref sum, ref count);
        return Lufs.FromMeanSquare(sum / count);
    }

    private void AddAbove(double threshold, ref double sum, ref long count)
    {
        if (_levels is not null)
        {
            var above = _levels.Above(threshold, orOn: false);
            sum += above.Sum;
            count += above.Count;
        }
        for (var piece = 0; piece < _loud?.Pieces; piece++)
        {
            foreach (var meanSquare in _loud.Piece(piece))
            {
                if (!(meanSquare > threshold)) continue;
                sum += meanSquare;
                count++;
            }
        }
    }
}
