using Mixscore.Loudness;

namespace Mixscore.Audio;

/// <summary>
/// How the channels of a stem go into a stereo mix: each with the weight that the loudness standard gives it, so that the
/// stem is as loud in the mix as it measures alone. A centre goes to both sides at −3.01 dB, surrounds to their own.
/// </summary>
internal static class Fold
{
    /// <summary>The amplitude gains of each channel to the left and the right.</summary>
    internal static (float Left, float Right)[] Of(SoundFormat format, Pan pan)
    {
        var sides = format.Channels switch
        {
            1 => new[] { pan.Position },
            2 => [-1, 1],
            3 => [-1, 1, 0],
            4 => [-1, 1, -1, 1],
            5 => [-1, 1, 0, -1, 1],
            _ => [-1, 1, 0, 0, -1, 1],
        };
        return [.. sides.Select((side, channel) => Gains(Pan.Of(side), Math.Sqrt(format.Weight(channel))))];
    }

    private static (float Left, float Right) Gains(Pan pan, double weight) => ((float)(pan.Left * weight), (float)(pan.Right * weight));
}
