using Mixscore.Audio;
using Mixscore.Planning;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;
using Mixscore.Score;

namespace Mixscore.Steps;

/// <summary>
/// Linear timecode beside the click: the label that is asked for begins with the piece, to the sample, and the count-in
/// carries the labels before it. Less than a frame at the file's start is silent.
/// </summary>
internal sealed class TimecodeTrack
{
    private readonly LtcWriter _writer;
    private long _silent;

    internal TimecodeTrack(ClickTimes times, Timecode atStart)
    {
        var perSecond = Timecode.FramesPerSecond(atStart.Rate);
        var before = (long)Math.Floor(times.Lead.Value * perSecond);
        _silent = (long)Math.Round((times.Lead.Value - before / perSecond) * ClickTrack.SampleRate);
        _writer = new LtcWriter(atStart.Plus(-before), ClickTrack.SampleRate);
    }

    internal void Fill(Span<float> samples)
    {
        var silent = (int)Math.Min(_silent, samples.Length);
        samples[..silent].Clear();
        _silent -= silent;
        _writer.Fill(samples[silent..]);
    }

    /// <summary>A rate (<c>24</c>, <c>25</c>, <c>30</c>, <c>30df</c>) and the label at the start of the piece.</summary>
    /// <exception cref="InputException">MX393 one of the two is not so.</exception>
    internal static Timecode Read(string rate, string label)
    {
        TimecodeRate? named = rate.Trim().ToLowerInvariant() switch
        {
            "24" => TimecodeRate.Frames24,
            "25" => TimecodeRate.Frames25,
            "30" => TimecodeRate.Frames30,
            "30df" or "29.97df" => TimecodeRate.Frames30Drop,
            _ => null,
        };
        if (named is not { } frames) throw Wrong("--ltc", $"\"{rate}\" is not a rate of timecode", "write 24, 25, 30 or 30df (drop-frame)");
        var parts = label.Split(':', ';');
        var figures = parts.Select(part => int.TryParse(part, System.Globalization.NumberStyles.None, null, out var figure) ? figure : -1).ToArray();
        if (figures.Length != 4 || !Timecode.IsLabel(frames, figures[0], figures[1], figures[2], figures[3]))
            throw Wrong("--ltc-at", $"\"{label}\" is not a label at that rate", "write hours, minutes, seconds and frames, such as 01:00:00:00");
        return new Timecode(frames, figures[0], figures[1], figures[2], figures[3]);
    }

    private static InputException Wrong(string option, string found, string remedy) => new(new Fault("MX393", new Place(option), found, remedy));
}
