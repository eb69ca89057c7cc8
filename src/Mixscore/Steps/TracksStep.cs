using Mixscore.Audio;
using Mixscore.Desk;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>What the players hear in their headphones.</summary>
internal static class TracksStep
{
    internal sealed record Result(ClickTimes Click, IReadOnlyList<string> Files, IReadOnlyList<string> Notes);

    internal static Result Click(OpenProject project, Timecode? timecode)
    {
        var times = ClickTimes.Of(project.OnScore);
        var (wav, midi) = (Path.Combine(project.Out, "click.wav"), Path.Combine(project.Out, "click.mid"));
        ClickTrack.Write(wav, times, timecode is { } label ? new TimecodeTrack(times, label).Fill : null);
        WholeFile.Write(midi, ClickMidi.Of(times, project.Plan.Title, out var notes));
        return new Result(times, [wav, midi], notes);
    }

    /// <summary>One track for all, and one for each site that says what its players are told.</summary>
    /// <returns><c>null</c> where nobody can speak it.</returns>
    internal static CallResult? Call(OpenProject project)
    {
        var settings = project.Plan.Call;
        var place = new Place(project.Plan.File);
        ICallVoice? voice = settings.Folder is { } folder
            ? new RecordedVoice(Path.Combine(project.Plan.Folder, folder), place)
            : EspeakVoice.Find(settings.Language, Path.Combine(project.Out, "cache", "words"), place);
        if (voice is null) return null;
        var click = ClickTimes.Of(project.OnScore);
        var performance = project.Performance;
        var calls = new List<Called> { Write("call.wav", null, settings.Choice, []) };
        foreach (var site in project.Plan.Sites)
            if (site.Call is { } choice) calls.Add(Write($"call-{site.Name}.wav", site.Name, choice, CallScript.Rests(project.OnScore, performance, site)));
        return new CallResult(calls);

        Called Write(string name, string? site, CallChoice choice, IReadOnlyList<bool> rests)
        {
            var track = CallTrack.Of(click, CallScript.Of(click, project.Timeline, settings, choice, rests), voice);
            var path = Path.Combine(project.Out, name);
            track.Write(path);
            return new Called(path, site, track);
        }
    }

    /// <summary>A call as it was written.</summary>
    internal sealed record Called(string File, string? Site, CallTrack Track);

    internal sealed record CallResult(IReadOnlyList<Called> Calls)
    {
        /// <summary>Recordings that are not there, each once.</summary>
        internal IReadOnlyList<string> Missing => [.. Calls.SelectMany(call => call.Track.Missing).Distinct(StringComparer.Ordinal)];
    }
}
