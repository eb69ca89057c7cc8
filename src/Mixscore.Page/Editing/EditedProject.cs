using System.Text.Json;
using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>
/// A project whose plan is edited on the page: after each change the rides are fitted again in the background, the newest text
/// last, and whoever shows or plays the project is given it anew. Any thread.
/// </summary>
public sealed class EditedProject : IDisposable
{
    /// <summary>How often the plan's file is looked at.</summary>
    private static readonly TimeSpan Pace = TimeSpan.FromMilliseconds(400);

    private readonly Func<PlanOnScore, IReadOnlyList<FittedSource>, IReadOnlyList<Ride>> _keep;
    private readonly PlanEdits _edits;
    private readonly Lock _gate = new();
    private readonly Lock _folding = new();
    private readonly NightFiles _nights;
    private readonly Timer _timer;
    private (string Log, NightProposals Found)? _folded;
    private PageProject _project;
    private string? _wanted;
    private bool _isFitting;
    private string? _problem;
    private volatile bool _ends;

    /// <summary>Begins with a project as it was opened.</summary>
    /// <param name="project">The project.</param>
    /// <param name="keep">Takes the rides of a plan that is in its file, and gives them back as they are kept; called on a background thread.</param>
    /// <param name="time">The clock of day, for the names of files.</param>
    /// <exception cref="IOException">The plan cannot be read.</exception>
    public EditedProject(PageProject project, Func<PlanOnScore, IReadOnlyList<FittedSource>, IReadOnlyList<Ride>> keep, TimeProvider time)
        : this(project, new PlanOnDisk(project.Plan.File), keep, time)
    {
    }

    internal EditedProject(PageProject project, IPlanFile file, Func<PlanOnScore, IReadOnlyList<FittedSource>, IReadOnlyList<Ride>> keep, TimeProvider time)
    {
        var text = file.Read() ?? throw new FileNotFoundException("the plan is gone", project.Plan.File);
        (_project, _keep) = (project with { Text = text }, keep);
        _edits = new PlanEdits(file, text, project.Plan.File, project.Timeline, one => Laid(one), time);
        _edits.Changed += Want;
        _nights = new NightFiles(Path.Combine(project.Plan.Folder, "log"));
        _timer = new Timer(_ => Look(), null, Pace, Pace);
    }

    /// <summary>The rides are new.</summary>
    internal event Action<PageProject>? Renewed;

    /// <summary>How the edits stand has changed.</summary>
    internal event Action? Stood;

    /// <summary>The project as it is now.</summary>
    internal PageProject Project => Volatile.Read(ref _project);

    /// <summary>The plan's text as the page has it.</summary>
    internal string Text => _edits.Text;

    /// <summary>Does what a page orders.</summary>
    /// <returns>Why not, in words; <c>null</c> when it is done.</returns>
    internal string? Do(EditOrder order)
    {
        var refused = order is EditOrder.Learn learn ? Learn(learn) : _edits.Do(order);
        Stood?.Invoke();
        return refused;
    }

    /// <summary>What a night suggests for the plan as it is; takes as long as a few fits.</summary>
    /// <returns><c>null</c> where there is no such log, or it cannot be read.</returns>
    internal NightProposals? Fold(string log)
    {
        lock (_folding)
        {
            var project = Project;
            if (_folded is { } last && last.Log == log && last.Found.Text == project.Text) return last.Found;
            if (_nights.Open(log) is not { } night) return null;
            var found = NightProposals.Of(night, project);
            _folded = (log, found);
            return found;
        }
    }

    private string? Learn(EditOrder.Learn learn)
    {
        NightProposals? found;
        lock (_folding) found = _folded is { } last && last.Log == learn.Log ? last.Found : null;
        if (found is null || found.Text != Text) return "the plan has changed since: look again at what the night suggests";
        return found.Chosen(learn.Key) is { Count: > 0 } chosen ? _edits.Do(new EditOrder.Accept(chosen)) : "the night does not suggest that";
    }

    /// <summary>How the edits stand, as a message for the page.</summary>
    internal byte[] Standing()
    {
        var now = _edits.Now;
        bool isFitting;
        lock (_gate) isFitting = _isFitting;
        return JsonSerializer.SerializeToUtf8Bytes(new
        {
            kind = "edit",
            undo = now.CanUndo,
            redo = now.CanRedo,
            saved = now.IsSaved,
            trouble = now.Trouble,
            clash = now.IsClash,
            notice = Volatile.Read(ref _problem) ?? now.Notice,
            fitting = isFitting,
        });
    }

    /// <inheritdoc/>
    public void Dispose()
    {
        _ends = true;
        _timer.Dispose();
    }

    private void Look()
    {
        if (!_ends && _edits.Look()) Stood?.Invoke();
    }

    /// <summary>A text as a plan on the score that is open.</summary>
    private PlanOnScore Laid(string text)
    {
        var before = _project.OnScore;
        var plan = PlanReader.Parse(text, before.Plan.File);
        return PlanOnScore.Resolve(plan, before.Score, plan.TempoFrom is { } from ? TempoFile.Read(Path.Combine(plan.Folder, from.File)) : null);
    }

    private void Want(string text)
    {
        lock (_gate)
        {
            _wanted = text;
            if (_isFitting) return;
            _isFitting = true;
        }
        _ = Task.Run(FitAll);
    }

    // One fit at a time; what was typed meanwhile is fitted next, and what lies between is left out.
    private void FitAll()
    {
        while (true)
        {
            string text;
            lock (_gate)
            {
                if (_wanted is null || _ends)
                {
                    _isFitting = false;
                    break;
                }
                (text, _wanted) = (_wanted, null);
            }
            Stood?.Invoke();
            try
            {
                Volatile.Write(ref _problem, Fit(text));
            }
            catch (Exception problem) when (problem is InputException or IOException or UnauthorizedAccessException or ArgumentException)
            {
                Volatile.Write(ref _problem, $"The rides could not be fitted: {problem.Message}");
            }
        }
        Stood?.Invoke();
    }

    /// <returns>What keeps the page from showing it; <c>null</c> for nothing.</returns>
    private string? Fit(string text)
    {
        var (before, laid) = (_project, Laid(text));
        if (!IsSamePiece(before.OnScore, laid)) return "The plan's score, tempo, sites or sources have changed: begin the rehearsal again to have them.";
        var sources = SourcesToFit.Of(laid, before.Stems);
        var fitted = RideFitter.Fit(laid.Timeline, laid.Plan.Limits, sources);
        var rides = _edits.Now.IsSaved && _edits.Text == text ? _keep(laid, fitted) : [.. fitted.Select(source => source.Ride)];
        var project = before with { Text = text, OnScore = laid, Rides = rides, Asked = AskedOverTime.Of(laid.Timeline, laid.Plan.Limits, sources, rides) };
        Volatile.Write(ref _project, project);
        Renewed?.Invoke(project);
        return null;
    }

    private static bool IsSamePiece(PlanOnScore a, PlanOnScore b) =>
        a.Plan.Score == b.Plan.Score && a.Timeline.End == b.Timeline.End && a.Timeline.Duration == b.Timeline.Duration && a.Timeline.Bars.Count == b.Timeline.Bars.Count
        && a.Plan.Reference == b.Plan.Reference && a.Plan.Limits == b.Plan.Limits
        && a.Plan.Sources.Select(Wiring).SequenceEqual(b.Plan.Sources.Select(Wiring));

    // What is opened once: the rest of a source may change under way.
    private static object Wiring(Source source) => (source.Name, source.Site.Name, source.Site.Link.Delay, source.Role, source.Stem, source.Start, source.Channel, source.Strip, source.Part);
}
