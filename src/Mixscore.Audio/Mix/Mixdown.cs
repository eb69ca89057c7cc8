using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// Renders stems through their rides to a stereo WAV file, and measures it on the way. Streams in blocks: while one is
/// measured and written the next is mixed. The samples do not depend on the machine's cores.
/// </summary>
public static class Mixdown
{
    private const int BlockFrames = 32_768;

    /// <summary>How long after the end of the piece sounds may ring on. Common practice, no source.</summary>
    private static readonly Seconds Tail = new(3);

    /// <summary>Renders a mix.</summary>
    /// <param name="tracks">At least one; all of one sample rate.</param>
    /// <param name="timeline">The piece as the plan times it.</param>
    /// <param name="path">Where the mix will stand, as 24-bit integers; it appears whole or not at all.</param>
    /// <param name="alignment">Whether the sites' delays stay or are taken out.</param>
    /// <param name="progress">Told how much is done, 0 to 1; may be <c>null</c>.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="InputException">A stem turned out to be faulty.</exception>
    /// <exception cref="UnavailableException">A stem cannot be read, or the mix not be written.</exception>
    public static MixResult Render(IReadOnlyList<MixTrack> tracks, Timeline timeline, string path, Alignment alignment = Alignment.AsItArrives,
        IProgress<double>? progress = null, CancellationToken cancellation = default)
    {
        if (tracks.Count == 0) throw new ArgumentException("a mix needs a track", nameof(tracks));
        var rate = tracks[0].Stem.Format.SampleRate;
        if (tracks.Any(track => track.Stem.Format.SampleRate != rate)) throw new ArgumentException("the tracks differ in sample rate", nameof(tracks));
        var aligned = alignment == Alignment.ByTheClick;
        var frames = Length(tracks, timeline, rate, aligned);
        var format = new SoundFormat(rate, channels: 2);
        var meter = SoundFigures.Meter(format);
        var voices = new List<MixVoice>();
        try
        {
            foreach (var track in tracks)
                voices.Add(new MixVoice(track, timeline.Tempo, aligned ? (long)Math.Round(track.Delay.Value * rate) : 0, BlockFrames));
            using var writer = new StemWriter(path, format, frames);
            Stream(voices, frames, meter, writer, progress, cancellation);
            writer.Finish();
            return new MixResult(SoundFigures.Of(meter.Figures), writer.Clipped);
        }
        finally
        {
            foreach (var voice in voices) voice.Dispose();
        }
    }

    /// <summary>To the end of the longest stem, but no shorter than the piece as its last site is heard, and no longer than that and a tail.</summary>
    private static long Length(IReadOnlyList<MixTrack> tracks, Timeline timeline, int rate, bool aligned)
    {
        var late = aligned ? 0 : tracks.Max(track => track.Delay.Value);
        var least = timeline.Duration.Value + late;
        var longest = tracks.Max(track => track.Stem.Duration.Value - (aligned ? track.Delay.Value : 0));
        return (long)Math.Ceiling(Math.Clamp(longest, least, least + Tail.Value) * rate);
    }

    private static void Stream(List<MixVoice> voices, long frames, LoudnessMeter meter, StemWriter writer, IProgress<double>? progress, CancellationToken cancellation)
    {
        var (ready, next) = (new float[2 * BlockFrames], new float[2 * BlockFrames]);
        var woven = new float[2 * BlockFrames];
        var count = Math.Min(BlockFrames, frames);
        Mix(voices, ready.AsSpan(0, 2 * (int)count));
        for (long done = 0; done < frames;)
        {
            cancellation.ThrowIfCancellationRequested();
            var after = (int)Math.Min(BlockFrames, frames - done - count);
            var target = next;
            var mixing = Task.Run(() => Mix(voices, target.AsSpan(0, 2 * after)), CancellationToken.None);
            try
            {
                var planar = ready.AsSpan(0, 2 * (int)count);
                meter.PushPlanar(planar);
                Weave(planar, woven);
                writer.Write(woven.AsSpan(0, planar.Length));
            }
            finally
            {
                Task.WhenAny(mixing).Wait(CancellationToken.None);   // its stems must not be closed under it
            }
            mixing.GetAwaiter().GetResult();
            done += count;
            count = after;
            (ready, next) = (next, ready);
            progress?.Report((double)done / frames);
        }
    }

    /// <summary>The next frames of all voices, added in their order; left first, then right.</summary>
    private static void Mix(List<MixVoice> voices, Span<float> planar)
    {
        planar.Clear();
        if (planar.Length == 0) return;
        var half = planar.Length / 2;
        foreach (var voice in voices) voice.AddTo(planar[..half], planar[half..]);
    }

    private static void Weave(ReadOnlySpan<float> planar, Span<float> woven)
    {
        var half = planar.Length / 2;
        for (var i = 0; i < half; i++) (woven[2 * i], woven[2 * i + 1]) = (planar[i], planar[half + i]);
    }
}

/// <summary>What becomes of the sites' delays in a mix.</summary>
public enum Alignment
{
    /// <summary>Each site is heard as late as its link makes it, as in the hall.</summary>
    AsItArrives,

    /// <summary>Each stem is moved earlier by its link's delay, to the nearest frame.</summary>
    ByTheClick,
}

/// <summary>A rendered mix.</summary>
/// <param name="Figures">What the meter read.</param>
/// <param name="Clipped">How many samples lay beyond full scale and were clipped; the meter heard them unclipped.</param>
public sealed record MixResult(SoundFigures Figures, long Clipped);
