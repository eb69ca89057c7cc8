using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>The stems of a plan, in the order of its sources, checked against each other and against the piece.</summary>
public sealed class StemSet
{
    private StemSet(IReadOnlyList<SourceStem> stems, IReadOnlyList<Fault> warnings) => (Stems, Warnings) = (stems, warnings);

    /// <summary>Each source with its stem.</summary>
    public IReadOnlyList<SourceStem> Stems { get; }

    /// <summary>Frames a second, the same for all; 0 where there is no stem.</summary>
    public int SampleRate => Stems.Count > 0 ? Stems[0].File.Format.SampleRate : 0;

    /// <summary>MX211 for each stem that ends before its piece does.</summary>
    public IReadOnlyList<Fault> Warnings { get; }

    /// <summary>Reads the headers of all stems.</summary>
    /// <param name="plan">Names the stems, relative to its folder.</param>
    /// <param name="timeline">The piece as the plan times it.</param>
    /// <exception cref="InputException">Stems that cannot be used, each at its source's place in the plan (codes as at
    /// <see cref="StemFile.Read"/>), with those that are not there; MX210 sample rates that differ.</exception>
    /// <exception cref="UnavailableException">MX201: all that is wrong is that stems are not there or cannot be opened.</exception>
    public static StemSet Open(MixPlan plan, Timeline timeline)
    {
        var stems = new List<SourceStem>();
        var (wrong, missing) = (new List<Fault>(), new List<Fault>());
        foreach (var source in plan.Sources)
            try
            {
                stems.Add(new SourceStem(source, StemFile.Read(Path.Combine(plan.Folder, source.Stem), source.Place).Part(source.Start, source.Channel, source.Place)));
            }
            catch (InputException e)
            {
                wrong.AddRange(e.Faults.Select(fault => Named(fault, source)));
            }
            catch (UnavailableException e)
            {
                missing.AddRange(e.Faults.Select(fault => Named(fault, source)));
            }
        if (wrong.Count > 0) throw new InputException([.. wrong, .. missing]);
        if (missing.Count > 0) throw new UnavailableException(missing);
        if (stems.Select(stem => stem.File.Format.SampleRate).Distinct().Count() > 1) throw new InputException(UnequalRates(stems));
        return new StemSet(stems, [.. stems.Select(stem => TooShort(stem, timeline)).OfType<Fault>()]);
    }

    private static Fault Named(Fault fault, Source source) => fault with { Found = $"{source.Name}: {fault.Found}" };

    private static Fault UnequalRates(List<SourceStem> stems)
    {
        var groups = stems.GroupBy(stem => stem.File.Format.SampleRate).OrderByDescending(group => group.Count()).ThenBy(group => group.Key).ToList();
        var found = string.Join("; ", groups.Select(group =>
            string.Create(CultureInfo.InvariantCulture, $"{group.Key} Hz in {string.Join(", ", group.Select(stem => stem.Source.Stem))}")));
        return new Fault("MX210", groups[^1].First().Source.Place, $"the stems have different sample rates: {found}",
            string.Create(CultureInfo.InvariantCulture, $"convert them to one rate, such as {groups[0].Key} Hz"));
    }

    /// <summary>A stem holds a bar whose end, as it arrives, lies within it. A hundredth of a second short is not worth a word.</summary>
    private static Fault? TooShort(SourceStem stem, Timeline timeline)
    {
        const double Grace = 0.01;
        var ends = stem.File.Duration - stem.Delay + new Seconds(Grace);
        if (timeline.Duration <= ends) return null;
        var bar = timeline.Bars.First(bar => timeline.Tempo.SecondsAt(bar.End) > ends);
        return new Fault("MX211", stem.Source.Place,
            $"{stem.Source.Name}: {stem.Source.Stem} ends at {stem.File.Duration}, in bar {bar}, and the piece at {timeline.Duration + stem.Delay}",
            $"what lies beyond is unmeasured, from bar {bar} on", Severity.Warning);
    }
}

/// <summary>A source with its stem.</summary>
/// <param name="Source">The source.</param>
/// <param name="File">Its recorded feed; time 0 is the start of the piece by the click.</param>
public sealed record SourceStem(Source Source, StemFile File)
{
    /// <summary>How much later than the click its sound stands in the stem.</summary>
    public Seconds Delay => Source.Site.Link.Delay;
}
