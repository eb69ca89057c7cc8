using Mixscore.Audio;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>A recorded mix against what the marks of all sources ask in sum. What a recording cannot tell is in <see cref="Limits"/>.</summary>
public sealed record RecordingCheck
{
    /// <summary>What such a recording proves and what it does not, in words.</summary>
    public const string Limits = "A recording holds the sum of all sources: a bar that is too loud or too soft in sum says that something was, not which source. One that is drowned by others can be missing altogether and the sum be right. The recorder’s own gain, the hall and its audience are in it as well: the gain is taken out as one figure for the whole piece, the rest is not.";

    /// <summary>How often the sum is looked at within a bar, in seconds. Our own figure: the window is 3 s.</summary>
    private const double Step = 0.1;

    /// <summary>Rounding must not decide: figures are shown to a hundredth of a LU.</summary>
    private const double Slack = 0.005;

    /// <summary>The recording's file.</summary>
    public required string File { get; init; }

    /// <summary>Where the piece lies in it.</summary>
    public required RecordingPlace Place { get; init; }

    /// <summary>How much louder the recording is than the marks ask, in the middle of all bars: what is taken for the recorder's gain; <c>null</c> where no bar can be told.</summary>
    public required Decibels? Gain { get; init; }

    /// <summary>Bar by bar in played order.</summary>
    public required IReadOnlyList<RecordedBar> Bars { get; init; }

    /// <summary>How many bars can be told.</summary>
    public int Told => Bars.Count(bar => bar.Within is not null);

    /// <summary>How many of these lie within what the marks allow in sum.</summary>
    public int Within => Bars.Count(bar => bar.Within == true);

    /// <summary>In words, a sentence each.</summary>
    public IReadOnlyList<string> Words
    {
        get
        {
            var start = FormattableString.Invariant($"{Place.Start.Value:0.000} s");
            var by = Place.By switch { RecordingClue.Said => "as was said", RecordingClue.Click => "by the click on it", _ => "by its likeness to the rendered mix" };
            var words = new List<string> { FormattableString.Invariant($"The piece begins {start} into the recording, {by}; its clock runs {Math.Abs(Place.Drift):0} ppm {(Place.Drift >= 0 ? "fast" : "slow")}.") };
            if (Place.Agree < 0.75) words.Add(FormattableString.Invariant($"Only {100 * Place.Agree:0} % of it lie where the timeline has them: the night stayed, jumped or had another tempo, and bars beyond that are measured at the wrong place."));
            if (Gain is not { } gain) words.Add("No bar of it can be told.");
            else
            {
                words.Add(FormattableString.Invariant($"The recording is {Math.Abs(gain.Value):0.0} dB {(gain.Value >= 0 ? "louder" : "softer")} than the marks ask throughout; that is taken for its own gain and left out of what follows."));
                words.Add($"{Within} of {Told} bars lie within what the marks allow in sum.");
            }
            return words;
        }
    }

    /// <summary>Measures a recording.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="result">The check of the rendered mix, for what is asked of each source.</param>
    /// <param name="file">What the recording is called.</param>
    /// <param name="place">Where the piece lies in it.</param>
    /// <param name="recording">Its energy.</param>
    /// <param name="mix">The rendered mix's energy.</param>
    public static RecordingCheck Of(Timeline timeline, CheckResult result, string file, RecordingPlace place, EnergyTrack recording, EnergyTrack mix)
    {
        var reference = result.Mix.Reference;
        var bars = timeline.Bars.Select(bar => Bar(timeline, result, bar, time => recording.Centred(place.In(time).Value, 3) - reference, time => mix.Centred(time.Value, 3) - reference,
            time => place.In(time).Value is var at && at >= 0 && at <= recording.Seconds)).ToArray();
        var over = bars.Where(bar => bar is { Recorded: not null, Asked: not null }).Select(bar => (bar.Recorded!.Value - bar.Asked!.Value).Value).Order().ToArray();
        var gain = over.Length == 0 ? (Decibels?)null : Decibels.Of(over[over.Length / 2]);
        return new RecordingCheck { File = file, Place = place, Gain = gain, Bars = [.. bars.Select(bar => Judged(bar, gain))] };
    }

    private static RecordedBar Judged(RecordedBar bar, Decibels? gain)
    {
        if (gain is not { } by || bar is not { Recorded: { } recorded, High: { } high, Low: { } low }) return bar with { Recorded = null };
        var heard = recorded - by;
        return bar with { Recorded = heard, Within = heard.Value <= high.Value + Slack && heard.Value >= low.Value - Slack };
    }

    private static RecordedBar Bar(Timeline timeline, CheckResult result, PlayedBar bar, Func<Seconds, Decibels?> recorded, Func<Seconds, Decibels?> rendered, Func<Seconds, bool> isThere)
    {
        var (from, to) = (timeline.Tempo.SecondsAt(bar.Start).Value, timeline.Tempo.SecondsAt(bar.End).Value);
        var (asked, low, high, heard, mixed) = (new Mean(), new Mean(), new Mean(), new Mean(), new Mean());
        for (var at = from + Step / 2; at < to; at += Step)
        {
            var time = new Seconds(at);
            if (!isThere(time) || Sum(result, time) is not { } sum || recorded(time) is not { } level) continue;
            asked.Add(sum.Asked);
            low.Add(sum.Low);
            high.Add(sum.High);
            heard.Add(level.Value);
            if (rendered(time) is { } mix) mixed.Add(mix.Value);
        }
        return new RecordedBar(bar, asked.Value, low.Value, high.Value, mixed.Value, heard.Value, null);
    }

    /// <summary>What all marks ask together, as powers add; <c>null</c> where nothing is asked.</summary>
    private static (double Asked, double Low, double High)? Sum(CheckResult result, Seconds time)
    {
        var (asked, low, high) = (0.0, 0.0, 0.0);
        foreach (var source in result.Sources)
        {
            // The mix begins with the click, as stems do: a source is its link's delay late in both.
            var hop = source.Trace.HopAt(time - source.Trace.Delay);
            if (hop >= source.Trace.Active.Count || !source.Trace.Active[hop] || source.Trace.Target[hop] is not { } target) continue;
            asked += Power(target);
            low += source.Trace.Low[hop] is { } lowest ? Power(lowest) : 0;
            high += source.Trace.High[hop] is { } highest ? Power(highest) : Power(target);
        }
        return asked > 0 && low > 0 ? (10 * Math.Log10(asked), 10 * Math.Log10(low), 10 * Math.Log10(high)) : null;
    }

    private static double Power(double level) => Math.Pow(10, level / 10);

    private sealed class Mean
    {
        private double _sum;
        private int _count;

        internal Decibels? Value => _count == 0 ? null : Decibels.Of(_sum / _count);

        internal void Add(double value) => (_sum, _count) = (_sum + value, _count + 1);
    }
}

/// <summary>The sum of all sources in one bar, in LU over the reference; <c>null</c> where nothing is asked, or the recording does not reach.</summary>
/// <param name="Bar">The bar.</param>
/// <param name="Asked">What the marks ask in sum.</param>
/// <param name="Low">The least that they allow in sum.</param>
/// <param name="High">The most.</param>
/// <param name="Rendered">What the mix as rendered from the stems has.</param>
/// <param name="Recorded">What the recording has, its own gain taken out.</param>
/// <param name="Within">Whether that lies within what the marks allow.</param>
public sealed record RecordedBar(PlayedBar Bar, Decibels? Asked, Decibels? Low, Decibels? High, Decibels? Rendered, Decibels? Recorded, bool? Within);
