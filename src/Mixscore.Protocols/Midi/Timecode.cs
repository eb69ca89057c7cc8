using System.Globalization;

namespace Mixscore.Protocols.Midi;

/// <summary>
/// The label of a frame, hour to frame. Drop-frame leaves out the labels 00 and 01 at second 0 of every minute that is no
/// multiple of ten (SMPTE 12M). The default value is 00:00:00:00 at 24 frames.
/// </summary>
public readonly record struct Timecode
{
    /// <summary>A label.</summary>
    /// <exception cref="ArgumentOutOfRangeException">A figure is out of range, or drop-frame leaves this label out.</exception>
    public Timecode(TimecodeRate rate, int hours, int minutes, int seconds, int frames)
    {
        if (!IsLabel(rate, hours, minutes, seconds, frames))
            throw new ArgumentOutOfRangeException(nameof(frames), $"no such label: {hours}:{minutes}:{seconds}:{frames} at {rate}");
        (Rate, Hours, Minutes, Seconds, Frames) = (rate, hours, minutes, seconds, frames);
    }

    /// <summary>How frames are counted.</summary>
    public TimecodeRate Rate { get; }

    /// <summary>0 to 23.</summary>
    public int Hours { get; }

    /// <summary>0 to 59.</summary>
    public int Minutes { get; }

    /// <summary>0 to 59.</summary>
    public int Seconds { get; }

    /// <summary>0 to one below the frames in a second.</summary>
    public int Frames { get; }

    /// <summary>Frames since 00:00:00:00.</summary>
    public long Index
    {
        get
        {
            var minutes = (Hours * 60) + Minutes;
            var labels = ((((long)minutes * 60) + Seconds) * LabelsPerSecond(Rate)) + Frames;
            return Rate == TimecodeRate.Frames30Drop ? labels - (2 * (minutes - (minutes / 10))) : labels;
        }
    }

    /// <summary>Labels in a second: 24, 25 or 30.</summary>
    public static int LabelsPerSecond(TimecodeRate rate) => rate switch
    {
        TimecodeRate.Frames24 => 24,
        TimecodeRate.Frames25 => 25,
        TimecodeRate.Frames30Drop or TimecodeRate.Frames30 => 30,
        _ => throw new ArgumentOutOfRangeException(nameof(rate), rate, "not a rate"),
    };

    /// <summary>Frames in a second of the clock on the wall; 30000/1001 for drop-frame.</summary>
    public static double FramesPerSecond(TimecodeRate rate) =>
        rate == TimecodeRate.Frames30Drop ? 30000.0 / 1001.0 : LabelsPerSecond(rate);

    /// <summary>Frames in the 24 hours of labels; 2,589,408 for drop-frame.</summary>
    public static long FramesPerDay(TimecodeRate rate) =>
        rate == TimecodeRate.Frames30Drop ? 144 * DropFramesInTenMinutes : 86400L * LabelsPerSecond(rate);

    /// <summary>The label of a frame.</summary>
    /// <param name="rate">How frames are counted.</param>
    /// <param name="index">Frames since 00:00:00:00; taken round the 24 hours, also below 0.</param>
    public static Timecode FromIndex(TimecodeRate rate, long index)
    {
        var day = FramesPerDay(rate);
        var label = ((index % day) + day) % day;
        if (rate == TimecodeRate.Frames30Drop)
        {
            var (tens, rest) = Math.DivRem(label, DropFramesInTenMinutes);
            label += 18 * tens;
            // The first minute of ten has all its 1800 labels, the nine after it 1798.
            if (rest >= 1800) label += 2 * (1 + ((rest - 1800) / 1798));
        }
        var (seconds, frames) = Math.DivRem(label, LabelsPerSecond(rate));
        return new Timecode(rate, (int)(seconds / 3600), (int)(seconds / 60 % 60), (int)(seconds % 60), (int)frames);
    }

    /// <summary>The frame that is showing so many seconds after 00:00:00:00, by the clock on the wall.</summary>
    public static Timecode FromSeconds(TimecodeRate rate, double seconds)
    {
        if (!double.IsFinite(seconds)) throw new ArgumentOutOfRangeException(nameof(seconds), seconds, "not a time");
        // A microframe of grace, so that a frame's own time, rounded in a double, is that frame.
        return FromIndex(rate, (long)Math.Floor((seconds * FramesPerSecond(rate)) + 1e-6));
    }

    /// <summary>Seconds on the wall from 00:00:00:00 to the beginning of this frame.</summary>
    public double ToSeconds() => Index / FramesPerSecond(Rate);

    /// <summary>The label so many frames later, round the 24 hours.</summary>
    public Timecode Plus(long frames) => FromIndex(Rate, Index + frames);

    /// <summary>True when there is such a label.</summary>
    public static bool IsLabel(TimecodeRate rate, int hours, int minutes, int seconds, int frames)
    {
        if (rate is < TimecodeRate.Frames24 or > TimecodeRate.Frames30) return false;
        if (hours is < 0 or > 23 || minutes is < 0 or > 59 || seconds is < 0 or > 59) return false;
        if (frames < 0 || frames >= LabelsPerSecond(rate)) return false;
        return rate != TimecodeRate.Frames30Drop || seconds != 0 || minutes % 10 == 0 || frames >= 2;
    }

    /// <summary><c>01:30:35:20</c>; drop-frame with a semicolon before the frame.</summary>
    public override string ToString()
    {
        var mark = Rate == TimecodeRate.Frames30Drop ? ';' : ':';
        return string.Create(CultureInfo.InvariantCulture, $"{Hours:00}:{Minutes:00}:{Seconds:00}{mark}{Frames:00}");
    }

    private const long DropFramesInTenMinutes = 17982;
}
