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

    /// <summary>The frame of the file that is the first here; below 0 where so much silence stands before the file.</summary>
    public long Start { get; private init; }

    /// <summary>The one channel of the file that is read, from 1; <c>null</c> for all.</summary>
    public int? Channel { get; private init; }

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

    /// <summary>A part of the file as a stem of its own.</summary>
    /// <param name="start">Where it begins in the file; below 0 to put silence before it.</param>
    /// <param name="channel">The one channel that is wanted, from 1; <c>null</c> for all.</param>
    /// <param name="namedAt">Where both are named.</param>
    /// <exception cref="InputException">MX212 it begins where the file has ended; MX213 the file has no such channel.</exception>
    public StemFile Part(Seconds start, int? channel, Place namedAt)
    {
        var first = (long)Math.Round(start.Value * Format.SampleRate);
        if (first >= Frames) throw new InputException(new Fault("MX212", namedAt, $"the stem is to begin {start} into {Path}, which lasts {Duration}", "write where the piece begins in it"));
        if (channel > Format.Channels) throw new InputException(new Fault("MX213", namedAt, $"{Path} has {Format.Channels} channel{(Format.Channels == 1 ? "" : "s")}, so there is no channel {channel}", "write one that it has"));
        return this with { Start = first, Frames = Frames - first, Channel = channel, Format = channel is null ? Format : new SoundFormat(Format.SampleRate, 1) };
    }

    /// <summary>Opens it for reading, from its first frame.</summary>
    /// <exception cref="InputException">The file is no longer what it was.</exception>
    /// <exception cref="UnavailableException">The file is no longer there.</exception>
    public StemReader Open() => new(WaveHeader.Open(Path, new Place(Path)), this);
}
