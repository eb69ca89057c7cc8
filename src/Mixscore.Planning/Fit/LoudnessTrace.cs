using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// How loud a stem is, moment by moment: its short-term loudness over its active time, in LU over the plan's reference.
/// </summary>
public sealed class LoudnessTrace
{
    /// <summary>A trace from samples.</summary>
    /// <param name="samples">In ascending order of their time in the stem; usually every 100 ms.</param>
    /// <exception cref="ArgumentException">They do not ascend.</exception>
    public LoudnessTrace(IReadOnlyList<LoudnessSample> samples)
    {
        for (var i = 1; i < samples.Count; i++)
            if (!(samples[i].At > samples[i - 1].At)) throw new ArgumentException($"samples must ascend, at {samples[i].At}", nameof(samples));
        Samples = samples;
    }

    /// <summary>The samples, in order.</summary>
    public IReadOnlyList<LoudnessSample> Samples { get; }
}

/// <summary>How loud a stem is at one moment.</summary>
/// <param name="At">In seconds from the start of the stem.</param>
/// <param name="Loudness">In LU over the reference at a gain of 0 dB; <c>null</c> where the source is not active.</param>
public readonly record struct LoudnessSample(Seconds At, Decibels? Loudness);
