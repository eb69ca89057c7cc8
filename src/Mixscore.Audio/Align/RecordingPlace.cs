using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>Where a piece lies in a recording of its mix.</summary>
/// <param name="Start">When the piece begins in the recording, by the recorder's clock; below 0 where the recorder was started after it.</param>
/// <param name="Drift">How much faster than the click the recorder's clock counts, in parts per million.</param>
/// <param name="By">How it was found.</param>
/// <param name="Agree">Of the stretches that were looked at one by one, the part that lies on this line to 50 ms; 1 where none were.</param>
public sealed record RecordingPlace(Seconds Start, double Drift, RecordingClue By, double Agree)
{
    /// <summary>How long a stretch is that is looked for by itself. Our own figures, as all here.</summary>
    private const double Window = 20;

    private const int MostWindows = 12;

    private const double OnTheLine = 0.05;

    /// <summary>What a recording may hold before the piece begins after it was started, or miss of it, beyond what it is longer or shorter.</summary>
    private const double Spare = 60;

    /// <summary>When a time by the click is heard in the recording.</summary>
    public Seconds In(Seconds byClick) => new(Start.Value + (1 + Drift * 1e-6) * byClick.Value);

    /// <summary>Finds a piece in a recording by how its mix grows louder; where that is like nothing in it, by the players' click.</summary>
    /// <param name="recording">The recording.</param>
    /// <param name="mix">The mix as rendered: time 0 is the start of the piece by the click.</param>
    /// <param name="click">The click.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <returns><c>null</c> where it is not found.</returns>
    /// <exception cref="InputException">A file is faulty.</exception>
    /// <exception cref="UnavailableException">A file cannot be read.</exception>
    public static RecordingPlace? Find(StemFile recording, StemFile mix, ClickTimes click, CancellationToken cancellation = default)
    {
        var (take, rendered) = (Mono(recording), Mono(mix));
        var longer = recording.Duration.Value - mix.Duration.Value;
        var whole = TakeAlignment.Find(take, recording.Format.SampleRate, rendered, mix.Format.SampleRate, new Seconds(Math.Min(0, longer) - Spare), new Seconds(Math.Max(0, longer) + Spare));
        if (whole is not null) return Refined(take, recording.Format.SampleRate, rendered, mix.Format.SampleRate, whole.Lag);
        return StemClick.In(recording, click, cancellation) is { } found ? new RecordingPlace(found.Found.Start, found.Found.Drift, RecordingClue.Click, 1) : null;
    }

    // Stretch by stretch, and a line through where they are found that a stretch played otherwise does not bend.
    private static RecordingPlace Refined(float[] take, int takeRate, float[] mix, int mixRate, Seconds about)
    {
        var points = new List<(double At, double Found)>();
        var length = mix.Length / (double)mixRate;
        var count = (int)Math.Min(MostWindows, length / Window);
        for (var i = 0; i < count; i++)
        {
            var at = (length - Window) * i / Math.Max(1, count - 1);
            var from = at + about.Value - 1;
            if (from < 0 || TakeAlignment.Find(Slice(take, takeRate, from, Window + 2), takeRate, Slice(mix, mixRate, at, Window), mixRate, new Seconds(0), new Seconds(2)) is not { } found) continue;
            points.Add((at, from + found.Lag.Value));
        }
        if (points.Count < 3) return new RecordingPlace(about, 0, RecordingClue.Mix, 1);
        var slope = Median([.. from a in points from b in points where b.At > a.At select (b.Found - a.Found) / (b.At - a.At)]);
        var start = Median([.. points.Select(point => point.Found - slope * point.At)]);
        return new RecordingPlace(new Seconds(start), (slope - 1) * 1e6, RecordingClue.Mix, points.Count(point => Math.Abs(start + slope * point.At - point.Found) <= OnTheLine) / (double)points.Count);
    }

    private static ReadOnlySpan<float> Slice(float[] samples, int rate, double from, double seconds)
    {
        var first = Math.Clamp((int)Math.Round(from * rate), 0, samples.Length);
        return samples.AsSpan(first, Math.Clamp((int)Math.Round(seconds * rate), 0, samples.Length - first));
    }

    private static double Median(double[] values)
    {
        Array.Sort(values);
        return values[values.Length / 2];
    }

    private static float[] Mono(StemFile file)
    {
        var channels = file.Format.Channels;
        var woven = new float[file.Frames * channels];
        using (var reader = file.Open()) reader.Read(woven);
        if (channels == 1) return woven;
        var mono = new float[file.Frames];
        for (var i = 0; i < mono.Length; i++)
            for (var channel = 0; channel < channels; channel++) mono[i] += woven[i * channels + channel] / channels;
        return mono;
    }
}

/// <summary>How a piece was found in a recording.</summary>
public enum RecordingClue
{
    /// <summary>A person said where it begins.</summary>
    Said,

    /// <summary>It is like the rendered mix there.</summary>
    Mix,

    /// <summary>The players' click is on it.</summary>
    Click,
}
