using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>All sources against their marks, bar by bar and beat by beat.</summary>
public static class MixCheck
{
    /// <summary>The part of a beat that a source must play for the beat to count. Our own figure.</summary>
    private const double EnoughOfABeat = 0.5;

    /// <summary>What the check knows about one source before it judges.</summary>
    /// <param name="Source">The source.</param>
    /// <param name="Ride">Its ride.</param>
    /// <param name="Trace">What is heard and what is asked.</param>
    /// <param name="StemIntegrated">The loudness of its stem; <c>null</c> where it cannot be measured.</param>
    /// <param name="Drops">Dropouts, in seconds of the stem.</param>
    /// <param name="Widened">Stretches that the fit had to widen.</param>
    public sealed record Heard(Source Source, Ride Ride, SourceTrace Trace, Lufs? StemIntegrated, IReadOnlyList<(Seconds From, Seconds To)> Drops, IReadOnlyList<WidenedNote> Widened)
    {
        /// <summary>Noise of the link, in seconds of the stem.</summary>
        public IReadOnlyList<(Seconds From, Seconds To)> Bursts { get; init; } = [];

        /// <summary>Stretches that are pinned, in seconds by the click.</summary>
        public IReadOnlyList<(Seconds From, Seconds To)> Pinned { get; init; } = [];
    }

    /// <summary>The verdict on a mix.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="mix">What the mix measures.</param>
    /// <param name="sources">The sources, in the order of the plan.</param>
    /// <param name="leads">Who leads from where on, in order; <c>null</c> for the loudest by level.</param>
    /// <param name="clear">How far a source's mark asks it to stand over everything else in a bar; <c>null</c> where none asks.</param>
    /// <param name="bands">The sources in the bands of speech, in their order; <c>null</c> to leave out how voices are understood.</param>
    public static CheckResult Judge(
        Timeline timeline, CheckedMix mix, IEnumerable<Heard> sources,
        IReadOnlyList<(Quarters From, string? Source)>? leads = null, IReadOnlyList<BandTrace>? bands = null,
        Func<string, PlayedBar, Decibels?>? clear = null)
    {
        var judged = sources.Select(source => Judge(timeline, source)).ToArray();
        var clarity = MixClarity.Of(timeline, judged, leads ?? [], bands ?? [], mix.Reference, clear);
        var (isGood, because) = Verdict.Of(mix, judged, clarity);
        return new CheckResult
        {
            IsGood = isGood,
            Because = because,
            Mix = mix,
            Sources = judged,
            Clarity = clarity,
        };
    }

    private static CheckedSource Judge(Timeline timeline, Heard source)
    {
        int active = 0, within = 0;
        var bars = new List<CheckedBar>(timeline.Bars.Count);
        foreach (var bar in timeline.Bars)
        {
            var (target, heard, isWithin, _) = Stretch(bar.Start, bar.End);
            bars.Add(new CheckedBar(bar, Level(target), Level(heard), isWithin));
            for (var i = 0; i < bar.Beats.Count; i++)
            {
                var beat = Stretch(bar.Beats[i], i + 1 < bar.Beats.Count ? bar.Beats[i + 1] : bar.End);
                if (beat.ActivePart < EnoughOfABeat) continue;
                active++;
                if (beat.Within == true) within++;
            }
        }
        return new CheckedSource
        {
            Source = source.Source,
            Ride = source.Ride,
            StemIntegrated = source.StemIntegrated,
            BeatsActive = active,
            BeatsWithin = within,
            Bars = bars,
            Widened = source.Widened,
            Drops = source.Drops,
            Bursts = source.Bursts,
            Pinned = source.Pinned,
            Trace = source.Trace,
        };

        (double? Target, double? Heard, bool? Within, double ActivePart) Stretch(Quarters from, Quarters to) =>
            SourceCheck.Stretch(source.Trace, timeline.Tempo.SecondsAt(from), timeline.Tempo.SecondsAt(to));
    }

    private static Decibels? Level(double? value) => value is { } v ? Decibels.Of(v) : null;
}
