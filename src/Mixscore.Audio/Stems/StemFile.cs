using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A WAV file whose header was read and found good. The samples are read through <see cref="Open"/>.</summary>
public sealed record StemFile
{
    /// <summary>The file.</summary>
    public required string Path { get; init; }

    /// <summary>Its sample rate and channels, in the orders that <see cref="SoundFormat"/> lists.</summary>
    public required SoundFormat Format { get; init; }

    /// <summary>How the samples are held.</summary>
    public required SampleEncoding Encoding { get; init; }

    /// <summary>How many frames (a sample of each channel) it has; above 0.</summary>
    public required long Frames { get; init; }

    /// <summary>How long it sounds.</summary>
    public Seconds Duration => new((double)Frames / Format.SampleRate);

    /// <summary>Reads and checks the header.</summary>
    /// <param name="path">The file.</param>
    /// <param name="namedAt">Where the file is named, such as a line of the plan; <c>null</c> where the user named it.</param>
    /// <exception cref="InputException">MX202 not a WAV file; MX203 shorter than its header says; MX204 an encoding that
    /// is not read; MX205 no sound in it; MX206 a sample rate out of range; MX207 more than 6 channels.</exception>
    /// <exception cref="UnavailableException">MX201 the file is not there or cannot be read.</exception>
    public static StemFile Read(string path, Place? namedAt = null)
    {
        using var wave = WaveHeader.Open(path, namedAt ?? new Place(path));
        return wave.File;
    }

    /// <summary>Opens it for reading, from its first frame.</summary>
    /// <exception cref="InputException">The file is no longer what it was.</exception>
    /// <exception cref="UnavailableException">The file is no longer there.</exception>
    public StemReader Open() => new(WaveHeader.Open(Path, new Place(Path)));
}
