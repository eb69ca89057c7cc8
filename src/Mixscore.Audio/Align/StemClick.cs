using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>The click of a piece on one channel of a stem.</summary>
/// <param name="Channel">From 1.</param>
/// <param name="Found">Where it is.</param>
public sealed record StemClick(int Channel, ClickFound Found)
{
    /// <summary>Looks for the click on every channel of a file.</summary>
    /// <param name="file">The whole file.</param>
    /// <param name="times">The click.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns>The channel on which most clicks are heard; <c>null</c> where none holds them.</returns>
    /// <exception cref="InputException">The file is faulty.</exception>
    /// <exception cref="UnavailableException">The file cannot be read.</exception>
    public static StemClick? In(StemFile file, ClickTimes times, CancellationToken cancellation = default)
    {
        StemClick? best = null;
        for (var channel = 1; channel <= file.Format.Channels; channel++)
        {
            cancellation.ThrowIfCancellationRequested();
            if (ClickFinder.Find(Samples(file.Part(Seconds.Zero, channel, new Place(file.Path))), file.Format.SampleRate, times) is not { } found) continue;
            if (best is null || found.Heard > best.Found.Heard) best = new StemClick(channel, found);
        }
        return best;
    }

    /// <summary>All samples of a file of one channel.</summary>
    /// <exception cref="InputException">The file is faulty.</exception>
    /// <exception cref="UnavailableException">The file cannot be read.</exception>
    public static float[] Samples(StemFile file)
    {
        using var reader = file.Open();
        var samples = new float[file.Frames];
        reader.Read(samples);
        return samples;
    }
}
