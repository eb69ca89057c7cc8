using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>A stem that the meter can measure from several places at once; each reader opens the file for itself.</summary>
/// <param name="file">The stem.</param>
/// <param name="listener">Asked for each reader, with the frame at which it begins, who shall hear all that it reads, in order
/// and on the thread that reads: some frames before and after a segment too. May be <c>null</c>.</param>
public sealed class StemSound(StemFile file, Func<long, Action<ReadOnlySpan<float>>>? listener = null) : ISound
{
    /// <inheritdoc/>
    public SoundFormat Format => file.Format;

    /// <inheritdoc/>
    public long Frames => file.Frames;

    /// <inheritdoc/>
    /// <exception cref="InputException">As at <see cref="StemFile.Open"/>.</exception>
    /// <exception cref="UnavailableException">As at <see cref="StemFile.Open"/>.</exception>
    public ISoundReader OpenAt(long frame)
    {
        var reader = file.Open();
        reader.Seek(frame);
        return new Blocks(reader, listener?.Invoke(frame));
    }

    private sealed class Blocks(StemReader reader, Action<ReadOnlySpan<float>>? heard) : ISoundReader
    {
        private readonly int _channels = reader.File.Format.Channels;
        private float[] _samples = [];

        public ReadOnlySpan<float> Read(int frames)
        {
            var wanted = frames * _channels;
            if (_samples.Length < wanted) _samples = new float[wanted];
            var samples = _samples.AsSpan(0, wanted);
            ArgumentOutOfRangeException.ThrowIfNotEqual(reader.Read(samples), wanted, nameof(frames));
            heard?.Invoke(samples);
            return samples;
        }

        public void Dispose() => reader.Dispose();
    }
}
