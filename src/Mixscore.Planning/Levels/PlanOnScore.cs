using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>A plan laid on its score: the timeline with the plan's tempi, and each source's levels over it.</summary>
public sealed class PlanOnScore
{
    private readonly Dictionary<string, PlannedSource> _byName;

    private PlanOnScore(MixPlan plan, WrittenScore score, Timeline timeline, IReadOnlyList<PlannedSource> sources,
        IReadOnlyList<string> order, IReadOnlyList<Fault> warnings)
    {
        (Plan, Score, Timeline, Sources, Warnings) = (plan, score, timeline, sources, warnings);
        _byName = sources.ToDictionary(source => source.Source.Name, StringComparer.Ordinal);
        FittingOrder = [.. order.Select(name => _byName[name])];
    }

    /// <summary>The plan.</summary>
    public MixPlan Plan { get; }

    /// <summary>The score.</summary>
    public WrittenScore Score { get; }

    /// <summary>The bars as played, with the plan's tempi.</summary>
    public Timeline Timeline { get; }

    /// <summary>The sources in the order of the plan.</summary>
    public IReadOnlyList<PlannedSource> Sources { get; }

    /// <summary>The sources so ordered that each comes after those that it leans on; otherwise as in the plan.</summary>
    public IReadOnlyList<PlannedSource> FittingOrder { get; }

    /// <summary>Who leads from where on, in order; <c>null</c> for the loudest by level.</summary>
    public IReadOnlyList<(Quarters From, string? Source)> Leads { get; private init; } = [];

    /// <summary>The stretch that the hall's calibration was measured over; <c>null</c> without one.</summary>
    public (Quarters From, Quarters To)? Calibrated { get; private init; }

    /// <summary>Where the tempo is open: the score does not say how much and the plan says nothing.</summary>
    public IReadOnlyList<OpenTempo> OpenTempo { get; private init; } = [];

    /// <summary>What can be used but needs a look.</summary>
    public IReadOnlyList<Fault> Warnings { get; }

    /// <summary>A source by its name.</summary>
    /// <exception cref="KeyNotFoundException">The plan has none of that name.</exception>
    public PlannedSource this[string name] => _byName[name];

    /// <summary>Reads a plan and its score, and lays the one on the other.</summary>
    /// <param name="path">The plan's file.</param>
    /// <param name="changed">What to change in the plan before it is used; <c>null</c> for nothing.</param>
    /// <exception cref="InputException">The plan, the score or the tempo file cannot be used.</exception>
    /// <exception cref="IOException">One of them cannot be read.</exception>
    /// <exception cref="UnauthorizedAccessException">One of them may not be read.</exception>
    public static PlanOnScore Open(string path, Func<MixPlan, MixPlan>? changed = null)
    {
        var plan = PlanReader.Read(path);
        if (changed is not null) plan = changed(plan);
        plan = HallFile.Applied(plan);
        var tempo = plan.TempoFrom is { } from ? TempoFile.Read(Path.Combine(plan.Folder, from.File)) : null;
        return Resolve(plan, ScoreFile.Read(Path.Combine(plan.Folder, plan.Score)), tempo);
    }

    /// <summary>Lays a plan on its score.</summary>
    /// <param name="plan">As <see cref="PlanReader"/> gives it.</param>
    /// <param name="score">The score that the plan names.</param>
    /// <param name="tempo">The file that the plan says the tempo is from; <c>null</c> where it names none.</param>
    /// <exception cref="InputException">The plan speaks of what the score does not have; every fault is given.</exception>
    /// <exception cref="ArgumentException">The plan was not checked against itself: its sources lean on one another in
    /// a circle. Or it names a tempo file and none was given.</exception>
    public static PlanOnScore Resolve(MixPlan plan, WrittenScore score, TempoFile? tempo = null)
    {
        if (plan.TempoFrom is not null && tempo is null) throw new ArgumentException($"the plan takes its tempo from {plan.TempoFrom.File}, which was not given", nameof(tempo));
        var faults = new FaultList();
        var built = TimelineBuilder.Build(score, new TimelineOptions
        {
            WithRepeats = plan.WithRepeats,
            PlayedTempo = plan.TempoFrom is { } from ? TempoOnScore.From(from, tempo!, faults) : null,
            Tempo = [.. plan.Tempo.Select(TempoOnScore.Override)],
        });
        TempoOnScore.Report(plan.Tempo, built, faults);
        return Resolve(plan, score, built.Timeline, faults, [.. score.Warnings, .. built.Warnings], built.Open);
    }

    /// <summary>Lays a plan on a timeline that is made already; what was found on the way to it goes along.</summary>
    internal static PlanOnScore Resolve(MixPlan plan, WrittenScore score, Timeline timeline, FaultList faults,
        IReadOnlyList<Fault> warnings, IReadOnlyList<OpenTempo>? open = null)
    {
        var marks = plan.Levels.ToDictionary(levels => levels.Source, levels => levels.Marks, StringComparer.Ordinal);
        var written = plan.Pins.ToDictionary(pins => pins.Source, pins => pins.Pins, StringComparer.Ordinal);
        var sources = plan.Sources.Select(source =>
        {
            var placed = marks.GetValueOrDefault(source.Name, []).Select(mark => PlacedMark.Place(mark, source.Name, timeline, faults))
                .OfType<PlacedMark>();
            var line = LevelLineBuilder.Build(PlacedMark.InOrder(placed, source.Name, faults), timeline.End, plan.Limits.Bottom, source.Offset + source.HallOffset);
            var pins = new PinsOnScore(timeline, plan.Limits, source.Grid, faults);
            return new PlannedSource(source, PartFinder.Find(source, score.Parts, faults), line, pins.Of(source.Name, written.GetValueOrDefault(source.Name, [])));
        }).ToList();
        var leads = plan.Lead
            .Select(lead => (lead, Span: Span.Find(lead.From, null, lead.Place, $"lead, {RangeText.Spoken($"{lead.From}")}", timeline, faults)))
            .Where(found => found.Span is not null).Select(found => (found.Span!.Value.From, found.lead.Source)).OrderBy(lead => lead.From).ToList();
        var calibrated = plan.Hall.Calibration is { } calibration ? Span.Find(calibration.From, calibration.To, calibration.Place, "calibration", timeline, faults) : null;
        faults.ThrowIfAny();

        var lines = sources.ToDictionary(source => source.Source.Name, source => source.Levels, StringComparer.Ordinal);
        var order = LeanOrder.Of([.. lines.Keys], name => lines[name].LeansOn, out var circles);
        if (circles.Count > 0) throw new ArgumentException(LeanOrder.Spoken(circles[0]), nameof(plan));
        return new PlanOnScore(plan, score, timeline, sources, order, [.. warnings, .. LeansOnNothing(sources, lines)]) { Leads = leads, Calibrated = calibrated is { } span ? (span.From, span.To!.Value) : null, OpenTempo = open ?? [] };
    }

    private static IEnumerable<Fault> LeansOnNothing(IEnumerable<PlannedSource> sources, Dictionary<string, LevelLine> lines) =>
        from source in sources
        from lean in source.Levels.Segments.OfType<LevelSegment.Leaning>()
        where lean.Sources.All(name => lines[name].IsSilent)
        select new Fault(PlanFault.LeansOnNothing, lean.Mark!.Place,
            $"{source.Source.Name} leans on {string.Join(", ", lean.Sources)}, which nothing asks to be heard",
            "give it marks, or it will not be heard either", Severity.Warning);
}
