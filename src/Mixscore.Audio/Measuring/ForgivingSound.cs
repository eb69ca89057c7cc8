using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// A sound that goes on as silence where it cannot be read, and says so: a stem that fails does not stop the measuring of the
/// others, whose faults are to be told as well.
/// </summary>
/// <param name="sound">The sound.</param>
/// <param name="failed">Told where a reader that failed had begun, and why it did.</param>
internal sealed class ForgivingSound(ISound sound, Action<long, Exception> failed) : ISound
{
    public SoundFormat Format => sound.Format;

    public long Frames => sound.Frames;

    public ISoundReader OpenAt(long frame)
    {
        try
        {
            return new Reader(sound.OpenAt(frame), sound.Format.Channels, e => failed(frame, e));
        }
        catch (Exception e) when (e is InputException or UnavailableException)
        {
            failed(frame, e);
            return new Reader(null, sound.Format.Channels, e => failed(frame, e));
        }
    }

    private sealed class Reader(ISoundReader? inner, int channels, Action<Exception> failed) : ISoundReader
    {
        private ISoundReader? _inner = inner;
        private float[] _silence = [];

        public ReadOnlySpan<float> Read(int frames)
        {
            try
            {
                if (_inner is not null) return _inner.Read(frames);
            }
            catch (Exception e) when (e is InputException or UnavailableException)
            {
                failed(e);
                Dispose();
            }
            if (_silence.Length < frames * channels) _silence = new float[frames * channels];
            return _silence.AsSpan(0, frames * channels);
        }

        public void Dispose()
        {
            _inner?.Dispose();
            _inner = null;
        }
    }
}
