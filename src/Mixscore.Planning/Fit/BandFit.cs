namespace Mixscore.Planning;

/// <summary>
/// The fewest vertices that keep one fader within its band, and among such rides one nearest the middle. Bare numbers
/// in, bare numbers out.
/// </summary>
/// <remarks>
/// The stretches off and the pins cut the problem into pieces that do not touch one another, so the fewest of the whole is the sum
/// of the fewest of the pieces. Each piece is first widened by the least that lets it be ridden
/// (<see cref="BandWidening"/>), then <see cref="FewestSegments"/> finds the number, <see cref="NearestMiddle"/> the
/// knots, which <see cref="KnotShifts"/> draws nearer still, and <see cref="KnotGains"/> their gains.
/// </remarks>
internal static class BandFit
{
    /// <summary>How far, in dB, a ride may lie past a demand and still obey it: room for rounding, far under what a fader resolves.</summary>
    public const double Tolerance = 1e-9;

    /// <summary>What rounding alone may do, in dB.</summary>
    public const double Rounding = Tolerance / 1000;

    /// <summary>Fits.</summary>
    public static BandSolution Solve(BandProblem problem)
    {
        var knots = new List<Knot>();
        var widened = new List<Widening>();
        double[] low = [.. problem.Samples.Select(sample => sample.Low)];
        double[] high = [.. problem.Samples.Select(sample => sample.High)];
        var at = 0;
        FixedEnd? start = null;
        foreach (var (from, to, first, last) in GivenStretches(problem))
        {
            if (from > at) Open(at, from, start, first);
            if (knots.Count == 0 || knots[^1].Beat < from) knots.Add(first.ToKnot(from));
            if (to > from) knots.Add(last.ToKnot(to));
            (at, start) = (to, last);
        }
        if (at < problem.Beats.Length - 1) Open(at, problem.Beats.Length - 1, start, null);
        return new BandSolution(knots, widened, low, high);

        void Open(int from, int to, FixedEnd? start, FixedEnd? end)
        {
            var piece = BandPiece.Of(problem, from, to, start, end, out var first);
            if (piece is { StartsOff: true, EndsOff: true, Last: 1 })
            {
                if (piece.Samples.Length > 0) widened.Add(NoRoom(piece, first, problem.Bottom));
                return;
            }
            var origin = problem.Beats[from];
            foreach (var stretch in BandWidening.Apply(piece, problem.Bottom, problem.Top))
                widened.Add(stretch with
                {
                    First = stretch.First + first,
                    Last = stretch.Last + first,
                    MoveFrom = stretch.MoveFrom + origin,
                    MoveTo = stretch.MoveTo + origin,
                });
            for (var i = 0; i < piece.Samples.Length; i++) (low[first + i], high[first + i]) = (piece.Samples[i].Low, piece.Samples[i].High);
            foreach (var (beat, gain) in Ride(piece))
                if (!(beat == 0 && start is not null) && !(beat == piece.Last && end is not null))
                    knots.Add(new Knot(from + beat, Math.Clamp(gain, problem.Bottom, problem.Top)));
        }
    }

    /// <summary>The stretches over which the gain is given, off or pinned, in order.</summary>
    private static IEnumerable<(int From, int To, FixedEnd First, FixedEnd Last)> GivenStretches(BandProblem problem)
    {
        var off = new FixedEnd(problem.Bottom, IsOff: true);
        return problem.Off.Select(stretch => (stretch.From, stretch.To, off, off))
            .Concat(problem.Pins.Select(pin => (pin.From, pin.To, new FixedEnd(pin.Start, false), new FixedEnd(pin.End, false))))
            .OrderBy(given => given.From).ThenBy(given => given.To);
    }

    private static IEnumerable<(int Beat, double Gain)> Ride(BandPiece piece)
    {
        var reversed = piece.Reversed();
        var possible = BeatChain.Possible(piece, reversed);
        var band = new LineBand(piece, possible);
        var fewest = FewestSegments.Find(band, mayGoStraight: !(piece.StartsOff && piece.EndsOff));
        var knots = NearestMiddle.Find(new LineBand(reversed, [.. possible.Reverse()]), fewest);
        return KnotShifts.Settle(band, knots);
    }

    /// <summary>The samples between two beats on which the fader is off: they ask for a gain, and there is no beat for it.</summary>
    private static Widening NoRoom(BandPiece piece, int first, double bottom)
    {
        var by = piece.Samples.Max(sample => sample.Low - bottom);
        return new Widening(first, first + piece.Samples.Length - 1, Math.Max(0, by), Because.NoRoom, 0, 0, 0);
    }
}
