namespace Mixscore.Loudness;

/// <summary>A sound that is held in memory.</summary>
/// <param name="format">Rate, channels and their weights.</param>
/// <param name="interleaved">Frames × channels, full scale 1; not copied.</param>
/// <exception cref="ArgumentException">The last frame is not whole.</exception>
public sealed class HeldSound(SoundFormat format, ReadOnlyMemory<float> interleaved) : ISound
{
    private readonly ReadOnlyMemory<float> _samples = interleaved.Length % format.Channels == 0
        ? interleaved
        : throw new ArgumentException($"{interleaved.Length} samples are no whole number of frames of {format.Channels}.", nameof(interleaved));

    /// <inheritdoc/>
    public SoundFormat Format => format;

    /// <inheritdoc/>
    public long Frames => _samples.Length / format.Channels;

    /// <inheritdoc/>
    public ISoundReader OpenAt(long frame) => new Reader(_samples[checked((int)frame * format.Channels)..], format.Channels);

    private sealed class Reader(ReadOnlyMemory<float> rest, int channels) : ISoundReader
    {
        private int _at;

        public ReadOnlySpan<float> Read(int frames)
        {
            var samples = rest.Span.Slice(_at, frames * channels);
            _at += samples.Length;
            return samples;
        }

        public void Dispose() { }
    }
}
