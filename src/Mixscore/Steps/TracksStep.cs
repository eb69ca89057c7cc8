using Mixscore.Audio;
using Mixscore.Desk;
using Mixscore.Planning;
using Mixscore.Project;
using Mixscore.Protocols.Midi;

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
}
