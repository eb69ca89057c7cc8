using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>The piece cut into cells, so many a beat: fine enough for what a hand does, and for where a mark can stand.</summary>
internal sealed class FoldGrid
{
    /// <summary>Cells a beat: about 60 ms at 120 beats a minute, where a hand's own time is some 200 ms. Our own figure.</summary>
    internal const int PerBeat = 8;

    private readonly double[] _starts;

    internal FoldGrid(Timeline timeline, Limits limits)
    {
        (Timeline, Fader) = (timeline, new FaderGrid(timeline, limits));
        var beats = Fader.Beats;
        _starts = new double[Fader.Last * PerBeat + 1];
        (Middle, Seconds) = (new double[_starts.Length - 1], new double[_starts.Length - 1]);
        for (var i = 0; i < _starts.Length; i++)
        {
            var beat = Math.Min(i / PerBeat, Fader.Last - 1);
            _starts[i] = beats[beat] + ((beats[beat + 1] - beats[beat]) * (i - (beat * PerBeat)) / PerBeat);
        }
        for (var i = 0; i < Middle.Length; i++)
        {
            Middle[i] = (_starts[i] + _starts[i + 1]) / 2;
            Seconds[i] = timeline.Tempo.SecondsAt(_starts[i + 1]).Value - timeline.Tempo.SecondsAt(_starts[i]).Value;
        }
    }

    internal Timeline Timeline { get; }

    /// <summary>The beats, and what a fader can do between them.</summary>
    internal FaderGrid Fader { get; }

    internal int Count => Middle.Length;

    /// <summary>The middle of each cell, in quarters.</summary>
    internal double[] Middle { get; }

    /// <summary>How long each cell lasts.</summary>
    internal double[] Seconds { get; }

    /// <summary>The first cell whose middle is at a place or after it.</summary>
    internal int CellAt(double quarters)
    {
        var found = Array.BinarySearch(Middle, quarters);
        return found >= 0 ? found : ~found;
    }

    /// <summary>The cells of beats, from one up to another.</summary>
    internal static Range OfBeats(int from, int to) => (from * PerBeat)..(to * PerBeat);

    /// <summary>A beat as a position.</summary>
    internal Position PositionOf(int beat) => Timeline.PositionAt(Fader.PlaceOf(beat));
}
