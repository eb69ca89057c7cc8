namespace Mixscore.Planning.Tests.Fit;

/// <summary>
/// The fewest vertices by a dynamic programme over (beat, gain) with the gains on a lattice, in whole numbers throughout, so
/// that every comparison is exact. The lattice can miss a ride, but it brackets the answer: a ride on the lattice that
/// obeys is a ride, so the fewest there are no less than the fewest of all; and any ride, its gains rounded to the lattice,
/// lies within half a step of what it was, so the fewest that obey bands eased by half a step are no more. Where the two
/// agree, they are the answer. Shares no line with what it judges.
/// </summary>
internal sealed class Lattice
{
    /// <summary>Parts of a quarter; all places must be whole numbers of them.</summary>
    public const int PerQuarter = 8;

    /// <summary>Parts of a dB; all gains and bands must be whole numbers of them.</summary>
    public const int PerDb = 1000;

    /// <summary>The lattice's step, in parts of a dB; the range, pins and off stand on it.</summary>
    public const int Step = 50;

    private const int None = int.MaxValue;

    private readonly long[] _beats;
    private readonly long[] _steepest;    // parts of a dB for each part of a quarter
    private readonly (long At, long Low, long High)[] _samples;
    private readonly Given?[] _from;      // by beat: what is given from there on, the longest where one ends and one begins
    private readonly bool[] _isOff;       // by beat
    private readonly int[] _firstSample;  // by beat: the first sample on it or later
    private readonly int _ease;
    private readonly long _bottom;
    private readonly int[][] _fewest;     // by beat and gain: vertices up to there

    private Lattice(BandProblem problem, bool isEased)
    {
        _ease = isEased ? Step : 0;
        _bottom = Whole(problem.Bottom, PerDb);
        _beats = [.. problem.Beats.Select(beat => Whole(beat, PerQuarter))];
        _steepest = [.. problem.Steepest.Select(slope => Whole(slope, PerDb / (double)PerQuarter))];
        Given[] given =
        [
            .. problem.Off.Select(off => new Given(off.From, off.To, 0, 0, IsOff: true)),
            .. problem.Pins.Select(pin => new Given(pin.From, pin.To, Index(pin.Start), Index(pin.End), IsOff: false)),
        ];
        _from = [.. _beats.Select((_, beat) => given.Where(one => one.From == beat).OrderByDescending(one => one.To).Cast<Given?>().FirstOrDefault())];
        _isOff = [.. _beats.Select((_, beat) => problem.Off.Any(off => off.From <= beat && beat <= off.To))];
        _samples =
        [
            .. problem.Samples
                .Select(sample => (At: Whole(sample.At, PerQuarter), Low: Whole(sample.Low, PerDb) - _ease / 2, High: Whole(sample.High, PerDb) + _ease / 2))
                .Where(sample => !given.Any(one => _beats[one.From] <= sample.At && sample.At <= _beats[one.To])),
        ];
        _firstSample = [.. _beats.Select(beat => _samples.Count(sample => sample.At < beat))];
        var count = Index(problem.Top) + 1;
        _fewest = [.. _beats.Select(_ => Enumerable.Repeat(None, count).ToArray())];
    }

    /// <summary>No fewer and no more than so many vertices; <c>null</c> where no ride obeys.</summary>
    public static (int? AtLeast, int? AtMost) Fewest(BandProblem problem) =>
        (new Lattice(problem, isEased: true).Run(), new Lattice(problem, isEased: false).Run());

    private int? Run()
    {
        for (var gain = 0; gain < _fewest[0].Length; gain++)
            if (_from[0] is null || _from[0]!.Value.Start == gain) _fewest[0][gain] = 1;
        for (var beat = 0; beat + 1 < _beats.Length; beat++)
            if (_from[beat] is { } stretch && stretch.To > beat)
            {
                var known = _fewest[beat][stretch.Start];
                if (known < None) _fewest[stretch.To][stretch.End] = Math.Min(_fewest[stretch.To][stretch.End], known + 1);
            }
            else
                for (var gain = 0; gain < _fewest[beat].Length; gain++)
                    if (_fewest[beat][gain] < None) Spread(beat, gain);
        var least = _fewest[^1].Min();
        return least < None ? least : null;
    }

    /// <summary>All segments from a gain on a beat: the slopes that keep every demand so far are one range of fractions.</summary>
    private void Spread(int from, int gain)
    {
        var (origin, start) = (_beats[from], _bottom + (long)gain * Step);
        var (rise, fall) = (new Slope(100_000, 1), new Slope(-100_000, 1));   // the greatest and the least slope left
        var sample = _firstSample[from];
        for (; sample < _samples.Length && _samples[sample].At == origin; sample++)
            if (start < _samples[sample].Low || start > _samples[sample].High) return;
        for (var beat = from + 1; beat < _beats.Length; beat++)
        {
            var length = _beats[beat] - origin;
            for (; sample < _samples.Length && _samples[sample].At <= _beats[beat]; sample++)
            {
                var at = _samples[sample].At - origin;
                rise = Slope.Lesser(rise, new Slope(_samples[sample].High - start, at));
                fall = Slope.Greater(fall, new Slope(_samples[sample].Low - start, at));
            }
            // The limit holds for the whole segment; rounding both of its ends adds up to a step over its length.
            var most = _steepest[beat - 1] * length + _ease;
            rise = Slope.Lesser(rise, new Slope(most, length));
            fall = Slope.Greater(fall, new Slope(-most, length));
            if (Slope.Compare(fall, rise) > 0) return;
            Reach(from, gain, beat, fall, rise);
            if (_from[beat] is not null) return;
        }
    }

    private void Reach(int from, int gain, int beat, Slope fall, Slope rise)
    {
        // From off to off the fader must open in between.
        if (_from[beat] is { IsOff: true } && _isOff[from]) return;
        var length = _beats[beat] - _beats[from];
        var low = Math.Max(_from[beat]?.Start ?? 0, gain + fall.CeilingOf(length, Step));
        var high = Math.Min(_from[beat]?.Start ?? int.MaxValue, gain + rise.FloorOf(length, Step));
        var (known, vertices) = (_fewest[beat], _fewest[from][gain] + 1);
        for (var to = low; to <= high && to < known.Length; to++)
            if (vertices < known[to]) known[to] = vertices;
    }

    private int Index(double gain) => (int)((Whole(gain, PerDb) - _bottom) / Step);

    private static long Whole(double value, double parts)
    {
        var whole = Math.Round(value * parts);
        return Math.Abs(value * parts - whole) < 1e-6 ? (long)whole : throw new ArgumentException($"{value} is not on the lattice", nameof(value));
    }

    /// <summary>A stretch over which the gain is given, by its places on the lattice.</summary>
    private readonly record struct Given(int From, int To, int Start, int End, bool IsOff);

    /// <summary>A fraction with a denominator above 0; its numbers are small enough that no product overflows.</summary>
    private readonly record struct Slope(long Up, long Over)
    {
        /// <summary>The slope times a length over a step, rounded down.</summary>
        public int FloorOf(long length, long step) => Floor(Up * length, Over * step);

        /// <summary>The slope times a length over a step, rounded up.</summary>
        public int CeilingOf(long length, long step) => -Floor(-Up * length, Over * step);

        public static int Compare(Slope a, Slope b) => (a.Up * b.Over).CompareTo(b.Up * a.Over);

        public static Slope Lesser(Slope a, Slope b) => a.Up * b.Over <= b.Up * a.Over ? a : b;

        public static Slope Greater(Slope a, Slope b) => a.Up * b.Over >= b.Up * a.Over ? a : b;

        private static int Floor(long a, long b) => (int)(a / b) - (a < 0 && a % b != 0 ? 1 : 0);
    }
}
