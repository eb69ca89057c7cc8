using System.Globalization;
using Mixscore.Project;
using Mixscore.Steps;

namespace Mixscore.Screen;

/// <summary>What became of the call, told to a person.</summary>
internal static class CallReport
{
    internal const string Remedy = "install espeak-ng (on Debian: apt-get install espeak-ng), or name a folder of recordings in the plan, such as \"call: { folder: words }\"";

    internal static void Show(Terminal terminal, TracksStep.CallResult? call, WriteKinds kinds)
    {
        if (!kinds.HasFlag(WriteKinds.Call)) return;
        if (call is null)
        {
            if (kinds != WriteKinds.Call) terminal.Say($"No call was written, since nobody speaks it; {Remedy}.");
            return;
        }
        foreach (var one in call.Calls)
            terminal.Say(string.Create(CultureInfo.InvariantCulture, $"Call{(one.Site is null ? "" : " for " + one.Site)}: {one.Track.Words.Count} words, each ended before its bar line{LeftOut(one)}. Written: {OpenProject.Shown(one.File)}"));
        if (call.Missing.Count > 0) terminal.Say($"Not recorded, and so not called: {string.Join(", ", call.Missing.Select(key => key + ".wav"))}");
    }

    private static string LeftOut(TracksStep.Called call) => call.Track.LeftOut.Count == 0 ? ""
        : string.Create(CultureInfo.InvariantCulture, $"; {call.Track.LeftOut.Count} left out for want of time");
}
