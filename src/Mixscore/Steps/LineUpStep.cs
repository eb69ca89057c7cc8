using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>Where the piece begins in recordings, and what to write in the plan.</summary>
internal static class LineUpStep
{
    /// <summary>What was found of a source's stem.</summary>
    internal sealed record Found(Source Source, StemClick? Click);

    /// <summary>Looks for the click in every stem.</summary>
    internal static IReadOnlyList<Found> Clicks(OpenProject project, CancellationToken cancellation)
    {
        var times = ClickTimes.Of(project.OnScore);
        // A file that holds several feeds is looked at once.
        var files = new Dictionary<string, StemClick?>(StringComparer.Ordinal);
        foreach (var source in project.Plan.Sources)
            if (!files.ContainsKey(source.Stem)) files[source.Stem] = StemClick.In(StemFile.Read(PathOf(project, source), source.Place), times, cancellation);
        return [.. project.Plan.Sources.Select(source => new Found(source, files[source.Stem]))];
    }

    /// <summary>Where a stem begins by a bar that a person heard in it, by an earlier take, or by both: the bar then says about where to look.</summary>
    /// <param name="project">The project.</param>
    /// <param name="name">The source.</param>
    /// <param name="bar">A position; <c>null</c> without one.</param>
    /// <param name="at">When it is heard in the stem.</param>
    /// <param name="take">An earlier take that is lined up already: time 0 is the start of the piece by the click, later by the link's delay; <c>null</c> without one.</param>
    internal static (Seconds Start, double? Likeness) LineUp(OpenProject project, string name, string? bar, Seconds? at, string? take)
    {
        var source = project.Plan.Sources.FirstOrDefault(one => one.Name == name)
            ?? throw Wrong("--line-up", $"there is no source \"{name}\"", $"name one of {string.Join(", ", project.Plan.Sources.Select(one => one.Name))}");
        var byBar = bar is null || at is null ? (Seconds?)null : at.Value - project.Timeline.Tempo.SecondsAt(Place(project, bar)) - source.Site.Link.Delay;
        if (take is null) return (byBar ?? throw Wrong("--line-up", "neither a bar nor an earlier take is given", "write --bar 17 --at 12.3, or --take EARLIER.wav"), null);
        var (file, earlier) = (StemFile.Read(PathOf(project, source), source.Place), StemFile.Read(take));
        if (file.Format.SampleRate != earlier.Format.SampleRate) throw Wrong("--take", $"{take} has another sample rate than {source.Stem}", "convert one of them");
        var found = TakeAlignment.Find(Mono(file, source.Channel ?? 1), Mono(earlier, 1), file.Format.SampleRate, new Seconds(Math.Max(60, file.Duration.Value / 2)), byBar)
            ?? throw Wrong("--take", $"{source.Stem} and {take} are not alike anywhere", "give an earlier take of the same music, or a bar with --bar and --at");
        return (found.Lag, found.Likeness);
    }

    private static Quarters Place(OpenProject project, string bar)
    {
        if (!Position.TryParse(bar, out var position, out var problem)) throw Wrong("--bar", $"\"{bar}\" is not a position: {problem}", "write a bar, such as 17 or 17:3");
        return project.Timeline.TryResolve(position!, out var place, out problem) ? place : throw Wrong("--bar", problem!, "write a position that the score has");
    }

    private static ReadOnlySpan<float> Mono(StemFile file, int channel) => StemClick.Samples(file.Part(Seconds.Zero, Math.Min(channel, file.Format.Channels), new Place(file.Path)));

    private static string PathOf(OpenProject project, Source source) => Path.Combine(project.Plan.Folder, source.Stem);

    private static InputException Wrong(string option, string found, string remedy) => new(new Fault("MX396", new Place(option), found, remedy));
}
