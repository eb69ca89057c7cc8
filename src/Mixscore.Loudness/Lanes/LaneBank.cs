using System.Runtime.Intrinsics;

namespace Mixscore.Loudness;

/// <summary>
/// Eight channels heard side by side: loaded, turned into frames that stay in the nearest cache, filtered, and searched for
/// their true peaks.
/// </summary>
internal sealed class LaneBank
{
    /// <summary>Most frames in a block: a hop at 48 kHz in one; 16 kB of frames and as much of samples.</summary>
    public const int MostFrames = 512;

    private readonly Lane[] _lanes;
    private readonly float[] _frames = new float[MostFrames * LaneFilter.Width];
    private readonly LaneFilter? _filter;
    private readonly TruePeakSearch[] _searches;
    private readonly int _used;
    private Vector256<float> _peaks;

    /// <summary>A bank at rest.</summary>
    /// <param name="sampleRate">Hz.</param>
    /// <param name="used">How many lanes, from the first, will be loaded: 1 to 8.</param>
    /// <param name="measures">What is asked for.</param>
    /// <param name="work">How to go about it.</param>
    public LaneBank(int sampleRate, int used, Measure measures, LaneWork work)
    {
        _used = used;
        _lanes = [.. Enumerable.Range(0, LaneFilter.Width).Select(_ => new Lane(MostFrames))];
        if (LoudnessFigures.NeedsFilters(measures)) _filter = new(sampleRate, work.Kernel);
        var ratio = measures.Includes(Measure.TruePeak) ? TruePeakFilter.Ratio(sampleRate) : 1;
        _searches = [.. _lanes.Select(_ => new TruePeakSearch(ratio, work.Interpolates))];
    }

    public Lane this[int lane] => _lanes[lane];

    /// <summary>The largest sample magnitude of a lane so far.</summary>
    public float SamplePeak(int lane) => _peaks[lane];

    /// <summary>The true peak of a lane so far; at least its sample peak.</summary>
    public float TruePeak(int lane) => _searches[lane].Peak;

    /// <summary>Tells a lane of a true peak that is found already: up to there it need not search.</summary>
    public void Know(int lane, float peak) => _searches[lane].Known = peak;

    /// <summary>The squares of a lane in the hop in hand; 0 where no loudness is asked for.</summary>
    public double Sum(int lane) => _filter?.Sum(lane) ?? 0;

    /// <summary>Hears what the lanes took.</summary>
    /// <param name="count">Frames, the same in every lane.</param>
    public void Hear(int count)
    {
        var sizes = Transposer.Transpose(_lanes, count, _frames);
        if (!sizes.AreClean)
        {
            foreach (var lane in _lanes) lane.Clean();
            sizes = Transposer.Transpose(_lanes, count, _frames);
        }
        _peaks = Vector256.Max(_peaks, sizes.Peaks);
        for (var lane = 0; lane < _used; lane++)
        {
            _lanes[lane].Peak = sizes.Peaks[lane];
            _searches[lane].Push(_lanes[lane]);
        }
        _filter?.AddSquares(_frames.AsSpan(0, count * LaneFilter.Width), _used);
    }

    public void EndHop() => _filter?.EndHop();
}
