using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>
/// How clear the mix is, bar by bar: the lead over everything else, in LU, and how much of the voices can be understood.
/// </summary>
/// <remarks>
/// The index needs levels at the ear, and a plan knows none: the reference is taken to sound as loud as speech of normal
/// effort at 1 m, 62.35 dB. Our own choice; at that level the noise decides and not the threshold of hearing.
/// </remarks>
public static class MixClarity
{
    /// <summary>The overall level of normal speech: ANSI S3.5-1997, table 3.</summary>
    private const double NormalSpeech = 62.35;

    /// <summary>The K-weighted level of a mean square of 1: ITU-R BS.1770-5 Annex 1, eq. 2.</summary>
    private const double KOffset = -0.691;

    /// <summary>The clarity of every bar.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="sources">What was found of each source.</param>
    /// <param name="leads">Who leads from where on, in order; <c>null</c> for the loudest by level.</param>
    /// <param name="bands">The sources in the bands of speech, in their order; empty where that was not measured.</param>
    /// <param name="reference">0 LU.</param>
    /// <param name="clear">How far a source's mark asks it to stand over everything else in a bar; it then leads there.</param>
    public static IReadOnlyList<BarClarity> Of(
        Timeline timeline, IReadOnlyList<CheckedSource> sources, IReadOnlyList<(Quarters From, string? Source)> leads, IReadOnlyList<BandTrace> bands, Lufs reference,
        Func<string, PlayedBar, Decibels?>? clear = null)
    {
        var bars = new List<BarClarity>(timeline.Bars.Count);
        foreach (var bar in timeline.Bars)
        {
            var (from, to) = (timeline.Tempo.SecondsAt(bar.Start), timeline.Tempo.SecondsAt(bar.End));
            var named = leads.LastOrDefault(lead => lead.From <= bar.Start).Source;
            var lead = sources.FirstOrDefault(source => clear?.Invoke(source.Source.Name, bar) is not null)
                ?? sources.FirstOrDefault(source => source.Source.Name == named) ?? Loudest(sources, bar);
            bars.Add(new BarClarity(bar, lead?.Source.Name, lead is null ? null : Over(lead, sources, from, to), Voices(sources, bands, from, to, reference))
            {
                Asked = lead is null ? null : clear?.Invoke(lead.Source.Name, bar),
            });
        }
        return bars;
    }

    private static CheckedSource? Loudest(IReadOnlyList<CheckedSource> sources, PlayedBar bar) =>
        sources.Where(source => source.Bars[bar.Index - 1].Target is not null).MaxBy(source => source.Bars[bar.Index - 1].Target!.Value.Value);

    /// <summary>Mean power against mean power, over the hops in which the lead plays.</summary>
    private static Decibels? Over(CheckedSource lead, IReadOnlyList<CheckedSource> sources, Seconds from, Seconds to)
    {
        var (own, rest) = (0.0, 0.0);
        for (int hop = lead.Trace.HopAt(from), end = lead.Trace.HopAt(to); hop < end; hop++)
        {
            if (!lead.Trace.Active[hop] || lead.Trace.Heard[hop] is not { } heard) continue;
            own += Math.Pow(10, heard / 10);
            var time = lead.Trace.TimeOf(hop);
            foreach (var other in sources)
            {
                if (ReferenceEquals(other, lead)) continue;
                var at = other.Trace.HopAt(time);
                if (at < other.Trace.Active.Count && other.Trace.Heard[at] is { } level) rest += Math.Pow(10, level / 10);
            }
        }
        return own > 0 && rest > 0 ? Decibels.Of(10 * Math.Log10(own / rest)) : null;
    }

    private static List<VoiceClarity> Voices(IReadOnlyList<CheckedSource> sources, IReadOnlyList<BandTrace> bands, Seconds from, Seconds to, Lufs reference)
    {
        var voices = new List<VoiceClarity>();
        if (bands.Count == 0) return voices;
        for (var v = 0; v < sources.Count; v++)
        {
            var trace = sources[v].Trace;
            if (sources[v].Source.Role != Role.Voice) continue;
            var (speech, noise, rows) = (new double[SpeechBands.Count], new double[SpeechBands.Count], 0);
            for (var time = from; time < to; time += BandTrace.Step)
            {
                var hop = trace.HopAt(time);
                if (hop >= trace.Active.Count || !trace.Active[hop]) continue;
                rows++;
                for (var s = 0; s < sources.Count; s++)
                    if (bands[s].At(time) is { } row)
                        for (var band = 0; band < SpeechBands.Count; band++) (s == v ? speech : noise)[band] += row[band];
            }
            if (rows > 0) voices.Add(new VoiceClarity(sources[v].Source.Name, SpeechIntelligibility.Index(Levels(speech, rows, reference), Levels(noise, rows, reference))));
        }
        return voices;
    }

    private static double[] Levels(double[] power, int rows, Lufs reference) =>
        [.. power.Select((sum, band) => sum > 0
            ? Math.Max(SpeechIntelligibility.NoNoise, 10 * Math.Log10(sum / rows) - SpeechBands.Width[band] + KOffset - reference.Value + NormalSpeech)
            : SpeechIntelligibility.NoNoise)];
}
