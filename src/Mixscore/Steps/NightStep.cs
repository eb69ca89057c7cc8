using Mixscore.Live;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>Logs of nights laid on the plan that they were played from.</summary>
internal static class NightStep
{
    /// <summary>The project of a night: the plan that is named, else the one whose name its log bears, beside the log or in the folder above.</summary>
    /// <exception cref="InputException">There is none.</exception>
    internal static OpenProject ProjectOf(Night night, string? plan)
    {
        if (plan is not null) return OpenProject.Open(plan);
        var name = night.Head?.Plan;
        var folder = Path.GetDirectoryName(Path.GetFullPath(night.Path))!;
        var found = new[] { folder, Path.GetDirectoryName(folder) }.OfType<string>().Select(place => Path.Combine(place, Path.GetFileName(name ?? ""))).FirstOrDefault(File.Exists);
        return OpenProject.Open(found ?? throw new InputException(new Fault("MX605", new Place(night.Path),
            name is null ? "the log does not say from which plan it was played" : $"the plan that it was played from, {name}, is neither beside it nor in the folder above", "name the plan with --plan")));
    }

    /// <summary>The record of a night.</summary>
    internal static NightRecord RecordOf(Night night, OpenProject project)
    {
        var rides = File.Exists(project.Rides) ? RidesFile.Read(project.Rides) : [];
        return NightRecords.Of(night, project.OnScore, rides.ToDictionary(ride => ride.Source, ride => ride.Ride, StringComparer.Ordinal));
    }
}
