namespace Mixscore.Loudness;

/// <summary>
/// Both K-weighting stages of eight channels at once, each in a lane of its own; turns samples into running sums of squares as
/// <see cref="KFilter"/> does for one.
/// </summary>
/// <remarks>
/// For each lane and sample, with the coefficients of <see cref="KWeighting"/>:
/// <code>
/// y  = x + s1                        both stages transposed; b0 of stage 1 is divided out here and put back into the sum
/// s1 = s2 + b1 x - a1 y = s2 + (b1 - a1) x - a1 s1
/// s2 = b2 x - a2 y
/// z  = y + t1                        the numerator of stage 2 is 1, -2, 1
/// t1 = t2 - 2 y - c1 z = t2 - (2 + c1) y - c1 t1
/// t2 = y - c2 z
/// sum += z z
/// </code>
/// Written so, each first state waits for one multiplication from one sample to the next, and eight lanes of doubles in two vectors of
/// 256 bits keep the arithmetic busy.
/// </remarks>
internal sealed partial class LaneFilter
{
    /// <summary>Lanes.</summary>
    public const int Width = 8;

    // As in KFilter: 600 dB below full scale, from where no state reaches the denormals within one hop.
    private const double Nothing = 1e-30;

    private readonly double _a1, _a2, _ab1, _b2, _c1, _c2, _c12, _scale;
    private readonly double[] _s1 = new double[Width], _s2 = new double[Width];
    private readonly double[] _t1 = new double[Width], _t2 = new double[Width];
    private readonly double[] _sums = new double[Width];
    private readonly LaneKernel _kernel;

    /// <summary>Filters at rest.</summary>
    /// <param name="sampleRate">Hz.</param>
    /// <param name="kernel">How to go over the lanes.</param>
    public LaneFilter(int sampleRate, LaneKernel kernel)
    {
        Biquad shelf = KWeighting.Shelf(sampleRate), highPass = KWeighting.HighPass(sampleRate);
        (_a1, _a2) = (-shelf.A1, -shelf.A2);
        (_ab1, _b2) = (shelf.B1 / shelf.B0 - shelf.A1, shelf.B2 / shelf.B0);
        (_c1, _c2, _c12) = (-highPass.A1, -highPass.A2, -(2 + highPass.A1));
        _scale = shelf.B0 * shelf.B0;
        _kernel = kernel;
    }

    /// <summary>A lane's sum of squares since the sums were cleared.</summary>
    public double Sum(int lane) => _sums[lane] * _scale;

    /// <summary>Filters on and adds up squares, sample by sample in order, so that other cuts give the same bits.</summary>
    /// <param name="frames">Frames × 8 lanes.</param>
    /// <param name="used">How many lanes, from the first, matter; the others are at liberty.</param>
    public void AddSquares(ReadOnlySpan<float> frames, int used)
    {
        switch (_kernel)
        {
            case LaneKernel.Eights:
                AddEights(frames);
                break;
            case LaneKernel.Fours when used > Width / 2:
                AddTwoFours(frames);
                break;
            case LaneKernel.Fours:
                AddFour(frames);
                break;
            default:
                for (var lane = 0; lane < used; lane++) AddPlain(frames, lane);
                break;
        }
    }

    /// <summary>Begins the sums anew and lets states that have died away be zero. To be called at hop ends only.</summary>
    public void EndHop()
    {
        Array.Clear(_sums);
        foreach (var states in (ReadOnlySpan<double[]>)[_s1, _s2, _t1, _t2])
            foreach (ref var state in states.AsSpan())
                if (Math.Abs(state) < Nothing) state = 0;
    }

    private void AddPlain(ReadOnlySpan<float> frames, int lane)
    {
        double s1 = _s1[lane], s2 = _s2[lane], t1 = _t1[lane], t2 = _t2[lane], sum = _sums[lane];
        for (var i = lane; i < frames.Length; i += Width)
        {
            double x = frames[i];
            var y = x + s1;
            s1 = _a1 * s1 + (_ab1 * x + s2);
            s2 = _a2 * y + _b2 * x;
            var z = y + t1;
            t1 = _c1 * t1 + (_c12 * y + t2);
            t2 = _c2 * z + y;
            sum += z * z;
        }
        (_s1[lane], _s2[lane], _t1[lane], _t2[lane], _sums[lane]) = (s1, s2, t1, t2, sum);
    }
}
