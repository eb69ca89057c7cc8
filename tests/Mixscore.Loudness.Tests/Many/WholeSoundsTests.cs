using CsCheck;

namespace Mixscore.Loudness.Tests.Many;

public class WholeSoundsTests
{
    private const Measure Everything = Measure.All | Measure.EnergyTrack;

    // Law: cut into segments, on any number of threads, a sound reads what it reads in one piece. Long enough for several
    // segments each; loud before soft, so that a warm-up that is too short would show.
    [Fact]
    public void Segments_read_what_the_whole_reads() =>
        (from seed in Gen.Int
         from threads in Gen.Int[1, 3]
         from formats in Gen.Select(Programmes.AnyOf(32_000, 37_813, 44_100, 48_000), Gen.Int[1, 3]).Array[1, 5]
         from seconds in Gen.Double[0, 23].Array[formats.Length]
         select (seed, threads, formats, seconds)).Sample(given =>
        {
            ISound[] sounds = [.. given.formats.Select((format, i) => Sound(format.Item1, format.Item2, given.seconds[i], unchecked(given.seed + i)))];
            var found = WholeSounds.Measure(sounds, Everything, given.threads, cancellation: TestContext.Current.CancellationToken);
            for (var i = 0; i < sounds.Length; i++) Alike.Same(Alone(sounds[i]), found[i]);
        }, iter: 3, threads: 1);

    // Loud up to a second and soft from there on: the segment that begins there must not hear less than the whole does.
    [Fact]
    public void A_segment_that_begins_after_a_loud_end_hears_it_die_away()
    {
        var samples = new float[25 * 48_000];
        for (var i = 0; i < samples.Length; i++) samples[i] = i % 480_000 >= 470_000 ? (i / 30 % 2 == 0 ? 1 : -1) : 1e-6f * (i % 7 - 3);
        var sound = new HeldSound(default, samples);
        Alike.Same(Alone(sound), WholeSounds.Measure([sound], Everything, cancellation: TestContext.Current.CancellationToken)[0]);
    }

    // What the interpolating filter would answer for silence after the end is no part of the sound.
    [Theory]
    [InlineData(1), InlineData(3), InlineData(11), InlineData(12), InlineData(4_409), InlineData(4_411), InlineData(44_100 * 12 + 5)]
    public void A_sound_that_ends_on_its_peak_peaks_there(int frames)
    {
        var samples = new float[frames];
        for (var i = 0; i < Math.Min(frames, 3); i++) samples[^(i + 1)] = 0.5f - 0.1f * i;
        ISound[] sounds = [new HeldSound(new SoundFormat(44_100, 1), samples), Sound(44_100, 1, 2.5, 7)];
        var found = WholeSounds.Measure(sounds, Everything, cancellation: TestContext.Current.CancellationToken);
        for (var i = 0; i < sounds.Length; i++) Alike.Same(Alone(sounds[i]), found[i]);
    }

    [Fact]
    public void More_channels_than_lanes_are_measured_too()
    {
        var format = SoundFormat.Weighted(48_000, 1, 1, 1, 1, 1.41, 1.41, 0, 1, 1, 1);
        var sound = new HeldSound(format, Programmes.Noise(10 * 48_000 * 4, 0.1, seed: 1));
        Alike.Same(Alone(sound), WholeSounds.Measure([sound], Everything, cancellation: TestContext.Current.CancellationToken)[0]);
    }

    [Fact]
    public void Progress_adds_up_to_every_frame_and_the_work_can_be_stopped()
    {
        ISound[] sounds = [Sound(48_000, 1, 12.345, 1), Sound(44_100, 2, 3.21, 2), Sound(48_000, 1, 0, 3)];
        var told = 0L;
        WholeSounds.Measure(sounds, told: frames => Interlocked.Add(ref told, frames), cancellation: TestContext.Current.CancellationToken);
        Assert.Equal(sounds.Sum(sound => sound.Frames), told);
        Assert.ThrowsAny<OperationCanceledException>(() => WholeSounds.Measure(sounds, cancellation: new CancellationToken(canceled: true)));
        Assert.Empty(WholeSounds.Measure([], cancellation: TestContext.Current.CancellationToken));
    }

    private static LoudnessFigures Alone(ISound sound)
    {
        var meter = new LoudnessMeter(sound.Format, Everything);
        using var reader = sound.OpenAt(0);
        meter.Push(reader.Read((int)sound.Frames));
        return meter.Figures;
    }

    // Stretches of noise of very different level, with a fault.
    private static HeldSound Sound(int rate, int channels, double seconds, int seed)
    {
        var random = new Random(seed);
        var samples = new float[(int)(seconds * rate) * channels];
        for (var at = 0; at < samples.Length;)
        {
            var length = Math.Min(1 + random.Next(rate * channels), samples.Length - at);
            Programmes.Noise(length, Math.Pow(10, -4 * random.NextDouble()), random.Next()).CopyTo(samples, at);
            at += length;
        }
        if (samples.Length > 0) samples[random.Next(samples.Length)] = float.NaN;
        return new HeldSound(new SoundFormat(rate, channels), samples);
    }
}
