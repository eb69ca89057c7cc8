using System.Numerics;
using System.Runtime.InteropServices;
using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>How far a sound stands off zero: the mean of all samples of a channel, of the channel that stands off most.</summary>
/// <param name="format">Of what is pushed.</param>
/// <param name="frames">How long the whole sound is.</param>
/// <param name="firstFrame">Where it begins to listen. Several that listen to stretches of one sound, which overlap by 0.2 s, find
/// together, through <see cref="Finish"/>, what one would find that listens to all.</param>
internal sealed class DirectCurrent(SoundFormat format, long frames, long firstFrame = 0)
{
    // Sums of a tenth of a second that one has heard whole: where stretches overlap each is taken once.
    private readonly int _channels = format.Channels, _blockFrames = format.SampleRate / 10;
    private readonly List<(long Block, double[] Sums)> _blocks = [];
    private double[] _sums = new double[format.Channels];
    private long _frame = firstFrame;
    private bool _whole;

    internal void Push(ReadOnlySpan<float> samples)
    {
        while (samples.Length > 0)
        {
            var within = _frame % _blockFrames;
            if (within == 0) (_whole, _sums) = (true, new double[_channels]);
            var count = (int)Math.Min(samples.Length / _channels, _blockFrames - within);
            Add(samples[..(count * _channels)]);
            _frame += count;
            if (_whole && (_frame % _blockFrames == 0 || _frame == frames)) _blocks.Add(((_frame - 1) / _blockFrames, _sums));
            samples = samples[(count * _channels)..];
        }
    }

    /// <summary>The mean, a ratio to full scale; 0 of no sound.</summary>
    internal static double Finish(long frames, params IReadOnlyCollection<DirectCurrent> finders)
    {
        var blocks = finders.SelectMany(finder => finder._blocks).DistinctBy(block => block.Block).OrderBy(block => block.Block).ToList();
        return blocks.Count == 0 ? 0 : Enumerable.Range(0, blocks[0].Sums.Length).Max(channel => Math.Abs(blocks.Sum(block => block.Sums[channel]))) / frames;
    }

    private void Add(ReadOnlySpan<float> samples)
    {
        if (_channels == 1)
        {
            _sums[0] += Sum(samples);
            return;
        }
        for (var i = 0; i < samples.Length; i++) _sums[i % _channels] += samples[i];
    }

    // A tenth of a second of floats in each lane loses nothing that could be heard.
    private static double Sum(ReadOnlySpan<float> samples)
    {
        ref var first = ref MemoryMarshal.GetReference(samples);
        var (a, b, c, d) = (Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero, Vector<float>.Zero);
        var i = 0;
        // Four sums side by side hide how long an addition takes.
        for (; i <= samples.Length - 4 * Vector<float>.Count; i += 4 * Vector<float>.Count)
        {
            a += Vector.LoadUnsafe(ref first, (nuint)(uint)i);
            b += Vector.LoadUnsafe(ref first, (nuint)(uint)(i + Vector<float>.Count));
            c += Vector.LoadUnsafe(ref first, (nuint)(uint)(i + 2 * Vector<float>.Count));
            d += Vector.LoadUnsafe(ref first, (nuint)(uint)(i + 3 * Vector<float>.Count));
        }
        double sum = Vector.Sum(a + b + c + d);
        for (; i < samples.Length; i++) sum += samples[i];
        return sum;
    }
}
