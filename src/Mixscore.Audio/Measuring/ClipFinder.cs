using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Finds where a feed was clipped: three samples of a channel or more in a row at full scale, which a step of 16 bits under it
/// counts as. Stretches with less than 50 ms between them are one. Our own definition, no source.
/// </summary>
/// <param name="format">Of what is pushed.</param>
/// <param name="firstFrame">Where it begins to listen. Several that listen to overlapping stretches of one sound find
/// together, through <see cref="Finish"/>, what one would find that listens to all.</param>
internal sealed class ClipFinder(SoundFormat format, long firstFrame = 0)
{
    private const float FullScale = 1 - 1f / (1 << 15);
    private const int LeastFrames = 3;
    private const double LeastBetween = 0.05;
    private readonly SoundFormat _format = format;
    // Runs of a channel in frames, as short as they come: one may go on in what another has heard.
    private readonly List<(int Channel, long From, long To)> _runs = [];
    private readonly long[] _from = [.. Enumerable.Repeat(-1L, format.Channels)];
    private long _frame = firstFrame;

    internal void Push(ReadOnlySpan<float> samples)
    {
        if (Array.TrueForAll(_from, from => from < 0) && !Reaches(samples))
        {
            _frame += samples.Length / _from.Length;
            return;
        }
        for (var i = 0; i < samples.Length; _frame++)
            for (var channel = 0; channel < _from.Length; channel++, i++)
                Hear(channel, Math.Abs(samples[i]) >= FullScale);
    }

    /// <summary>Where the sound that finders have heard together was clipped, in order.</summary>
    internal static Stretch[] Finish(params IReadOnlyCollection<ClipFinder> finders)
    {
        foreach (var finder in finders) finder.End();
        if (finders.Count == 0) return [];
        var rate = finders.First()._format.SampleRate;
        var runs = finders.SelectMany(finder => finder._runs).GroupBy(run => run.Channel)
            .SelectMany(channel => Joined(channel.Select(run => (run.From, run.To)), between: 0))
            .Where(run => run.To - run.From >= LeastFrames);
        return [.. Joined(runs, between: (long)(LeastBetween * rate))
            .Select(run => new Stretch(new Seconds((double)run.From / rate), new Seconds((double)run.To / rate)))];
    }

    private void Hear(int channel, bool full)
    {
        if (full == _from[channel] >= 0) return;
        if (!full) _runs.Add((channel, _from[channel], _frame));
        _from[channel] = full ? _frame : -1;
    }

    private void End()
    {
        for (var channel = 0; channel < _from.Length; channel++) Hear(channel, full: false);
    }

    private static IEnumerable<(long From, long To)> Joined(IEnumerable<(long From, long To)> runs, long between)
    {
        var (from, to) = (-1L, -1L);
        foreach (var run in runs.Order())
        {
            if (from >= 0 && run.From > to + between)
            {
                yield return (from, to);
                from = -1;
            }
            if (from < 0) from = run.From;
            to = Math.Max(to, run.To);
        }
        if (from >= 0) yield return (from, to);
    }

    private static bool Reaches(ReadOnlySpan<float> samples)
    {
        var vectors = MemoryMarshal.Cast<float, Vector<float>>(samples);
        var full = new Vector<float>(FullScale);
        var reaches = Vector<int>.Zero;
        foreach (var vector in vectors) reaches |= Vector.GreaterThanOrEqual(Vector.Abs(vector), full);
        if (reaches != Vector<int>.Zero) return true;
        foreach (var sample in samples[(vectors.Length * Vector<float>.Count)..])
            if (Math.Abs(sample) >= FullScale) return true;
        return false;
    }
}
