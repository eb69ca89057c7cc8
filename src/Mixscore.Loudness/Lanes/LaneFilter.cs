namespace Mixscore.Loudness;

/// <summary>
/// Both K-weighting stages of eight channels at once, each in a lane of its own; turns samples into running sums of squares as
/// <see cref="KFilter"/> does for one.
/// </summary>
/// <remarks>
/// For each lane and sample, with the coefficients of <see cref="KWeighting"/>:
/// <code>
/// w  = x - a1 w1 - a2 w2             stage 1; b0 is divided out here and put back into the sum
/// y  = w + b1 w1 + b2 w2
/// z  = y + t                         stage 2, whose numerator is 1, -2, 1, as two integrators
/// t += u - (2 + c1) z
/// u -= (1 + c1 + c2) z
/// sum += z z
/// </code>
/// Stage 2 comes from the transposed form, t' = u' - 2 y - c1 z with u' = y - c2 z, by taking z - t for y and t' + u' for u. It is
/// two products shorter, and its factors are the small numbers by which the poles lie off 1, so that direct current costs no digits.
/// </remarks>
internal sealed partial class LaneFilter
{
    /// <summary>Lanes.</summary>
    public const int Width = 8;

    // As in KFilter: 600 dB below full scale, from where no state reaches the denormals within one hop.
    private const double Nothing = 1e-30;

    private readonly double _a1, _a2, _b1, _b2, _e1, _e2, _scale;
    private readonly double[] _w1 = new double[Width], _w2 = new double[Width];
    private readonly double[] _t = new double[Width], _u = new double[Width];
    private readonly double[] _sums = new double[Width];
    private readonly LaneKernel _kernel;

    /// <summary>Filters at rest.</summary>
    /// <param name="sampleRate">Hz.</param>
    /// <param name="kernel">How to go over the lanes.</param>
    public LaneFilter(int sampleRate, LaneKernel kernel)
    {
        Biquad shelf = KWeighting.Shelf(sampleRate), highPass = KWeighting.HighPass(sampleRate);
        (_a1, _a2) = (-shelf.A1, -shelf.A2);
        (_b1, _b2) = (shelf.B1 / shelf.B0, shelf.B2 / shelf.B0);
        (_e1, _e2) = (-(2 + highPass.A1), -(1 + highPass.A1 + highPass.A2));
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
        foreach (var states in (ReadOnlySpan<double[]>)[_w1, _w2, _t, _u])
            foreach (ref var state in states.AsSpan())
                if (Math.Abs(state) < Nothing) state = 0;
    }

    private void AddPlain(ReadOnlySpan<float> frames, int lane)
    {
        double w1 = _w1[lane], w2 = _w2[lane], t = _t[lane], u = _u[lane], sum = _sums[lane];
        for (var i = lane; i < frames.Length; i += Width)
        {
            var w = frames[i] + _a1 * w1 + _a2 * w2;
            var y = w + _b1 * w1 + _b2 * w2;
            (w1, w2) = (w, w1);
            var z = y + t;
            t += u + _e1 * z;
            u += _e2 * z;
            sum += z * z;
        }
        (_w1[lane], _w2[lane], _t[lane], _u[lane], _sums[lane]) = (w1, w2, t, u, sum);
    }
}
