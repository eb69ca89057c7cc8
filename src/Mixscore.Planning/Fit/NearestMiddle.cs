using System.Diagnostics;

namespace Mixscore.Planning;

/// <summary>
/// Among the rides with the fewest segments, one near the middle of the band: least sum of squared distances from the
/// samples' middles. Goes from the last beat to the first, so that <see cref="FewestSegments"/> tells at each step which
/// gains still lead to the start.
/// </summary>
/// <remarks>
/// A dynamic programme over (segments left, beat, gain), the gain sorted into bins of which each keeps its best real
/// value: every state can be completed, none is rounded. The knots are thereby chosen on a raster of gains, so a better
/// choice can be missed where two are nearly even; <see cref="KnotShifts"/> then looks beside them. Where no sample
/// decides, the flatter ride is taken.
/// </remarks>
internal sealed class NearestMiddle
{
    /// <summary>The fewest and the most bins for the gain at a beat: our own, by trial, as is what they share out.</summary>
    private const int FewBins = 6;
    private const int ManyBins = 96;
    private const int BinsToShare = 4000;

    /// <summary>The fewest and the most beats of a layer that are gone on from; of our own, by trial, as is what they share out.</summary>
    private const int FewBeats = 6;
    private const int ManyBeats = 100;
    private const int BeatsToShare = 6000;

    /// <summary>What rounding may do to a cost, in dB².</summary>
    private const double Hair = 1e-6;

    private readonly int _bins;
    private readonly int _mostBeats;
    private readonly LineBand _back;
    private readonly FewestSegments _fewest;
    private readonly List<State> _states = [];
    private readonly int[] _best;
    private readonly double[] _costs;
    private readonly List<int> _touched = [];

    private NearestMiddle(LineBand back, FewestSegments fewest)
    {
        (_back, _fewest) = (back, fewest);
        _bins = Math.Clamp(BinsToShare / back.Last, FewBins, ManyBins);
        _mostBeats = Math.Clamp(BeatsToShare / back.Last, FewBeats, ManyBeats);
        _best = new int[(back.Last + 1) * _bins];
        Array.Fill(_best, -1);
        _costs = new double[_best.Length];
        Array.Fill(_costs, double.PositiveInfinity);
    }

    /// <summary>The knots in order, from the first beat to the last.</summary>
    /// <param name="back">The piece told from its end.</param>
    /// <param name="fewest">What was found for the piece told from its start.</param>
    public static (int Beat, double Gain)[] Find(LineBand back, FewestSegments fewest)
    {
        var search = new NearestMiddle(back, fewest);
        search.Run();
        return search.Trace();
    }

    private void Run()
    {
        var ends = _fewest.At(_back.Last, _fewest.Count);
        var bins = new Bins(ends.Hull, _bins);
        foreach (var range in ends.Ranges)
            for (var i = 0; i <= _bins; i++)
            {
                var gain = range.Low + (range.High - range.Low) * i / _bins;
                Offer(bins.Of(gain), new State(0, gain, 0, -1));
            }
        var fan = new LineFan(_back);
        for (var left = _fewest.Count - 1; left >= 0; left--)
        {
            var here = Take();
            foreach (var (from, to) in Thinned(here)) Spread(fan, here.AsSpan(from..to), left);
        }
    }

    /// <summary>
    /// The states of each beat of a layer, as ranges of indices; of many beats only some, spread evenly, those first on which a vertex counts least. Each leads to the
    /// start, so none is needed, and <see cref="KnotShifts"/> looks at the beats between.
    /// </summary>
    private List<(int From, int To)> Thinned(int[] layer)
    {
        var beats = new List<(int From, int To)>();
        for (var from = 0; from < layer.Length;)
        {
            var to = from + 1;
            while (to < layer.Length && _states[layer[to]].Beat == _states[layer[from]].Beat) to++;
            beats.Add((from, to));
            from = to;
        }
        if (beats.Count <= _mostBeats) return beats;
        return
        [
            .. Enumerable.Range(0, _mostBeats).Select(i =>
            {
                var share = beats[(i * beats.Count / _mostBeats)..((i + 1) * beats.Count / _mostBeats)];
                return share.MinBy(beat => _back.KnotCosts[_states[layer[beat.From]].Beat]);
            }),
        ];
    }

    /// <summary>The states of the layer that is done, by beat and bin; the bins are empty again.</summary>
    private int[] Take()
    {
        _touched.Sort();
        var taken = new int[_touched.Count];
        for (var i = 0; i < taken.Length; i++)
        {
            taken[i] = _best[_touched[i]];
            _best[_touched[i]] = -1;
            _costs[_touched[i]] = double.PositiveInfinity;
        }
        _touched.Clear();
        return taken;
    }

    private void Spread(LineFan fan, ReadOnlySpan<int> states, int left)
    {
        var start = _states[states[0]].Beat;
        fan.Begin(start);
        foreach (var index in states) fan.Add(_states[index].Gain);
        for (var b = start + 1; b <= _back.Last && fan.Extend(); b++)
        {
            if (b == _back.Last != (left == 0)) continue;
            var goals = _fewest.At(_back.Last - b, left);
            if (goals.IsEmpty) continue;
            var bins = new Bins(goals.Hull, _bins);
            for (var i = 0; i < states.Length; i++) Reach(fan, i, states[i], b, goals, bins);
        }
    }

    private void Reach(LineFan fan, int line, int index, int beat, ValueSet goals, in Bins bins)
    {
        var (low, high) = fan.Range(line);
        if (!(low <= high)) return;
        var state = _states[index];
        var (gain, length) = (state.Gain, fan.Length);
        var before = state.Cost + (beat < _back.Last ? _back.KnotCosts[beat] : 0);   // the last beat has its vertex anyhow
        var best = gain + fan.Moments.BestSlope(gain) * length;
        foreach (var range in goals.Ranges)
        {
            var span = new ValueRange(Math.Max(low, range.Low), Math.Min(high, range.High));
            if (span.IsEmpty) continue;
            var least = before + Cost(fan, gain, span.Clamp(best)) - Hair;
            var (first, last) = (bins.Of(span.Low), bins.Of(span.High));
            Try(span.Low, first);
            Try(span.High, last);
            if (best > span.Low && best < span.High) Try(best, bins.Of(best));
            for (var i = first; i <= last; i++)
                if (bins.Middle(i) is var middle && middle > span.Low && middle < span.High) Try(middle, i);

            void Try(double value, int bin)
            {
                var slot = beat * _bins + bin;
                if (_costs[slot] > least) Offer(slot, new State(beat, value, before + Cost(fan, gain, value), index));
            }
        }
    }

    private static double Cost(LineFan fan, double from, double to) =>
        fan.Moments.Distance(from, (to - from) / fan.Length) + KnotGains.Flatness * (to - from) * (to - from) / fan.Length;

    private void Offer(int slot, State state)
    {
        if (_best[slot] < 0)
        {
            _touched.Add(slot);
            _best[slot] = _states.Count;
            _states.Add(state);
        }
        else if (state.Cost < _costs[slot]) _states[_best[slot]] = state;
        else return;
        _costs[slot] = state.Cost;
    }

    private (int Beat, double Gain)[] Trace()
    {
        var last = Take();
        if (last.Length == 0) throw new UnreachableException("the fewest segments lead from the end to the start");
        var at = last.MinBy(index => _states[index].Cost);
        var knots = new List<(int, double)>();
        for (; at >= 0; at = _states[at].Next) knots.Add((_back.Last - _states[at].Beat, _states[at].Gain));
        return [.. knots];
    }

    /// <summary>A ride from here to the end.</summary>
    /// <param name="Beat">Counted from the end.</param>
    /// <param name="Gain">The gain there.</param>
    /// <param name="Cost">The squared distance from here to the end.</param>
    /// <param name="Next">Index of the state that follows it in time; −1 at the end.</param>
    private readonly record struct State(int Beat, double Gain, double Cost, int Next);

    /// <summary>The gains at a beat, shared out evenly.</summary>
    private readonly struct Bins(ValueRange hull, int count)
    {
        private readonly double _low = hull.Low;
        private readonly double _width = (hull.High - hull.Low) / count;
        private readonly double _perDb = hull.High > hull.Low ? count / (hull.High - hull.Low) : 0;
        private readonly int _last = count - 1;

        public int Of(double gain) => Math.Clamp((int)((gain - _low) * _perDb), 0, _last);

        public double Middle(int bin) => _low + (bin + 0.5) * _width;
    }
}
