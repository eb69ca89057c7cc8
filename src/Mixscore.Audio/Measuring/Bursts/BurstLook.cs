using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Looks at the samples about a candidate, on the channel that hisses most. One at a time.</summary>
/// <param name="reader">Of the stem.</param>
internal sealed class BurstLook(StemReader reader)
{
    private const double BesideSeconds = 0.06;

    private readonly SoundFormat _format = reader.File.Format;
    private readonly int _hop = HissTrack.HopFrames(reader.File.Format);
    private readonly int _cell = reader.File.Format.SampleRate / 2000;
    private readonly int _lag = HissTrack.LagFrames(reader.File.Format);

    private readonly Dictionary<int, FourierTransform> _transforms = [];

    /// <summary>The burst at a candidate and how much it hisses, or <c>null</c> where there is none.</summary>
    /// <param name="fromHop">The first hop of the candidate.</param>
    /// <param name="toHop">The one after its last.</param>
    internal (Stretch Where, float Hiss)? At(int fromHop, int toHop)
    {
        var beside = (int)(BesideSeconds * _format.SampleRate);
        var first = Math.Max(0, (long)fromHop * _hop - beside);
        var last = Math.Min(reader.File.Frames, (long)toHop * _hop + beside);
        var (coreFrom, coreTo) = ((int)((long)fromHop * _hop - first), (int)((long)toHop * _hop - first));
        var sound = Read(first, (int)(last - first), coreFrom, coreTo);
        var edges = new BurstEdges(Cells(sound), coreFrom / _cell, (coreTo + _cell - 1) / _cell);
        if (edges.Find(_hop / _cell + 2) is not var (from, to)) return null;
        // Half a cell of either edge may be on its other side.
        var (inner, end) = (from * _cell + _cell / 2, to * _cell - _cell / 2);
        var before = sound.AsSpan(0, Math.Max(0, (from - 1) * _cell));
        var after = sound.AsSpan(Math.Min(sound.Length, (to + 1) * _cell));
        return new BurstSpectrum(_format.SampleRate, end - inner, _transforms).IsNoise(sound.AsSpan(inner, end - inner), before, after) ? (new Stretch(Time(from), Time(to)), edges.Level) : null;

        Seconds Time(int cell) => new((first + (long)cell * _cell) / (double)_format.SampleRate);
    }

    /// <summary>The channel that hisses most within the core.</summary>
    private float[] Read(long first, int frames, int coreFrom, int coreTo)
    {
        var all = new float[frames * _format.Channels];
        reader.Seek(first);
        reader.Read(all);
        if (_format.Channels == 1) return all;
        var channels = Enumerable.Range(0, _format.Channels).Select(channel =>
        {
            var one = new float[frames];
            for (var i = 0; i < frames; i++) one[i] = all[i * _format.Channels + channel];
            return one;
        });
        return channels.MaxBy(one => HissTrack.Power(one.AsSpan(Math.Max(0, coreFrom - _lag)..coreTo), _lag))!;
    }

    /// <summary>The hiss every half millisecond.</summary>
    private float[] Cells(float[] sound)
    {
        var cells = new float[sound.Length / _cell];
        for (var i = 0; i < cells.Length; i++) cells[i] = HissTrack.Power(sound.AsSpan(Math.Max(0, i * _cell - _lag)..((i + 1) * _cell)), _lag);
        return cells;
    }
}
