namespace Mixscore.Loudness;

/// <summary>
/// Eight channels heard side by side: loaded, turned into frames that stay in the nearest cache, filtered, and searched for
/// their true peaks.
/// </summary>
internal sealed class LaneBank
{
    /// <summary>Most frames in a block: 8 kB of frames and as much of samples.</summary>
    public const int MostFrames = 256;

    private readonly Lane[] _lanes;
    private readonly float[] _frames = new float[MostFrames * LaneFilter.Width];
    private readonly LaneFilter? _filter;
    private readonly TruePeakSearch[] _searches;
    private readonly int _used;

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

    /// <summary>The true peak of a lane so far; at least its sample peak.</summary>
    public float TruePeak(int lane) => _searches[lane].Peak;

    /// <summary>The squares of a lane in the hop in hand; 0 where no loudness is asked for.</summary>
    public double Sum(int lane) => _filter?.Sum(lane) ?? 0;

    /// <summary>Hears what the lanes were loaded with.</summary>
    /// <param name="count">Frames, the same in every lane.</param>
    public void Hear(int count)
    {
        for (var lane = 0; lane < _used; lane++) _searches[lane].Push(_lanes[lane].WithHistory, _lanes[lane].Peak);
        if (_filter is null) return;
        Transposer.Transpose(_lanes, count, _frames);
        _filter.AddSquares(_frames.AsSpan(0, count * LaneFilter.Width), _used);
    }

    public void EndHop() => _filter?.EndHop();
}
