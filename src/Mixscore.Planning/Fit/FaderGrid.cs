using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// The places on which vertices may stand, called beats throughout the fit although they may be halves of beats or bar
/// lines, and how far the fader may move between them.
/// </summary>
internal sealed class FaderGrid
{
    private readonly Quarters[] _places;

    public FaderGrid(Timeline timeline, Limits limits, VertexGrid grid = VertexGrid.Beats)
    {
        _places = Places(timeline, grid);
        Beats = [.. _places.Select(place => place.ToDouble())];
        var bars = timeline.Bars.Select(bar => bar.Start).ToHashSet();
        IsBarLine = [.. _places.Select(bars.Contains)];
        Step = grid switch { VertexGrid.Halves => "half a beat", VertexGrid.Bars => "a bar", _ => "a beat" };
        Steepest = new double[Beats.Length - 1];
        // The limit is in dB a second; where the tempo is fastest a quarter has the fewest seconds.
        for (var i = 0; i < Steepest.Length; i++)
            Steepest[i] = limits.Speed * 60 / timeline.Tempo.FastestTempo(Beats[i], Beats[i + 1]);
    }

    /// <summary>The beats in quarters.</summary>
    public double[] Beats { get; }

    /// <summary>For each stretch between two beats the steepest slope, in dB a quarter.</summary>
    public double[] Steepest { get; }

    /// <summary>For each beat whether a bar begins on it.</summary>
    public bool[] IsBarLine { get; }

    /// <summary>What lies between two places, in words, such as <c>a beat</c>.</summary>
    public string Step { get; }

    /// <summary>Index of the last beat.</summary>
    public int Last => Beats.Length - 1;

    private static Quarters[] Places(Timeline timeline, VertexGrid grid) => grid switch
    {
        VertexGrid.Halves => [.. timeline.BeatGrid.Zip(timeline.BeatGrid.Skip(1), (beat, next) => (Quarters[])[beat, beat + (next - beat) * new Fraction(1, 2)]).SelectMany(places => places), timeline.End],
        VertexGrid.Bars => [.. timeline.Bars.Select(bar => bar.Start), timeline.End],
        _ => [.. timeline.BeatGrid],
    };

    /// <summary>The place of a beat, exact.</summary>
    public Quarters PlaceOf(int beat) => _places[beat];

    /// <summary>Index of the last beat at or before a place.</summary>
    public int AtOrBefore(Quarters place)
    {
        var found = Array.BinarySearch(_places, place);
        return found >= 0 ? found : Math.Max(0, ~found - 1);
    }

    /// <summary>Index of the first beat at or after a place.</summary>
    public int AtOrAfter(Quarters place)
    {
        var found = Array.BinarySearch(_places, place);
        return found >= 0 ? found : Math.Min(Last, ~found);
    }

    /// <summary>Index of the last beat at or before a place that need not be exact.</summary>
    public int AtOrBefore(double quarters)
    {
        var found = Array.BinarySearch(Beats, quarters);
        return found >= 0 ? found : Math.Max(0, ~found - 1);
    }

    /// <summary>The most that a fader can move from one beat to another, in dB.</summary>
    public double MostMove(int from, int to)
    {
        var most = 0.0;
        for (var i = from; i < to; i++) most += Steepest[i] * (Beats[i + 1] - Beats[i]);
        return most;
    }

    /// <summary>
    /// The beat on which one straight move must begin to be done on another: as few whole beats earlier as the speed
    /// allows, at least one, but not before the earliest beat even if that leaves too little time, or none.
    /// </summary>
    public int StartOfMove(int done, double move, int earliest)
    {
        var steepest = double.PositiveInfinity;
        var start = done;
        while (start > earliest)
        {
            start--;
            steepest = Math.Min(steepest, Steepest[start]);
            if (steepest * (Beats[done] - Beats[start]) >= Math.Abs(move)) break;
        }
        return Math.Min(start, done);
    }
}
