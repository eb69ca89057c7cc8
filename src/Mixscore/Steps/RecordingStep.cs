using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Reports;
using Mixscore.Score;
using Mixscore.Screen;

namespace Mixscore.Steps;

/// <summary>A recording of the mix, lined up by the timeline and measured against the marks.</summary>
/// <param name="Path">The file.</param>
/// <param name="Start">When the piece begins in it; <c>null</c> to look for it.</param>
internal sealed record RecordingStep(string Path, Seconds? Start)
{
    /// <summary>As a command line names it, looked at before anything is measured or rendered; <c>null</c> where it names none.</summary>
    /// <exception cref="InputException">A start without a recording, or that is no time; the recording is faulty.</exception>
    /// <exception cref="UnavailableException">The recording cannot be read.</exception>
    internal static RecordingStep? Of(string? path, double? start)
    {
        if (start is { } at && (!double.IsFinite(at) || path is null))
            throw new InputException(new Fault("MX223", new Place("--recording-start"), path is null ? "there is no recording to begin in" : $"{at} is no time", "write --recording FILE --recording-start SECONDS"));
        if (path is not null) StemFile.Read(path);
        return path is null ? null : new RecordingStep(path, start is { } said ? new Seconds(said) : null);
    }

    internal async Task<RecordingCheck> RunAsync(OpenProject project, CheckResult result, string mixPath, Terminal terminal, CancellationToken cancellation)
    {
        var (recording, mix) = (StemFile.Read(Path), StemFile.Read(mixPath));
        return await WorkProgress.RunAsync(terminal, "measuring the recording", _ =>
        {
            var place = Start is { } said ? new RecordingPlace(said, 0, RecordingClue.Said, 1)
                : RecordingPlace.Find(recording, mix, ClickTimes.Of(project.OnScore), cancellation)
                ?? throw new InputException(new Fault("MX222", new Place(Path), "nothing in the recording is like the mix, and the click is not on it", "say when the piece begins in it with --recording-start SECONDS"));
            return RecordingCheck.Of(project.Timeline, result, System.IO.Path.GetFileName(Path), place, SoundEnergy.Of(recording, cancellation), SoundEnergy.Of(mix, cancellation));
        });
    }
}
