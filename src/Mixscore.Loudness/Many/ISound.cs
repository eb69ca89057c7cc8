namespace Mixscore.Loudness;

/// <summary>A whole sound that can be read from any frame on, by several readers at once.</summary>
public interface ISound
{
    /// <summary>Rate, channels and their weights.</summary>
    SoundFormat Format { get; }

    /// <summary>How long it is; 0 or more.</summary>
    long Frames { get; }

    /// <summary>Opens a reader of its own.</summary>
    /// <param name="frame">Where it begins: 0 up to <see cref="Frames"/>.</param>
    /// <exception cref="ArgumentOutOfRangeException">It lies outside.</exception>
    ISoundReader OpenAt(long frame);
}

/// <summary>Reads a sound in order. Not for several threads at once.</summary>
public interface ISoundReader : IDisposable
{
    /// <summary>The next frames, channels side by side.</summary>
    /// <param name="frames">How many; the sound has as many left. At most 512.</param>
    /// <returns>Frames × channels, full scale 1, which stay there until the next call.</returns>
    /// <exception cref="ArgumentOutOfRangeException">The sound has not as many left.</exception>
    ReadOnlySpan<float> Read(int frames);
}
