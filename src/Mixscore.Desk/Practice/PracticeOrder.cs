using System.Globalization;
using Mixscore.Loudness;

namespace Mixscore.Desk;

/// <summary>What a person or a script tells a desk to practise on, a line each.</summary>
/// <param name="Kind">What to do.</param>
/// <param name="Strip">From 1; 0 where none is meant.</param>
/// <param name="Gain">Decibels; <c>null</c> is off.</param>
/// <param name="Over">How long a stroke takes.</param>
public sealed record PracticeOrder(PracticeOrderKind Kind, int Strip, Decibels? Gain, TimeSpan Over)
{
    /// <summary>The forms of an order.</summary>
    public const string Forms = "write grab STRIP DB [over SECONDS], release STRIP, feed STRIP DB, show or quit; off may stand for DB";

    /// <summary>Reads a line.</summary>
    /// <param name="line">As written.</param>
    /// <param name="order">The order; <c>null</c> for a line that is no order, and for an empty one.</param>
    /// <returns>False for a line that is no order.</returns>
    public static bool TryParse(string line, out PracticeOrder? order)
    {
        var words = line.Split(' ', StringSplitOptions.RemoveEmptyEntries | StringSplitOptions.TrimEntries);
        order = words switch
        {
            ["show"] => new PracticeOrder(PracticeOrderKind.Show, 0, null, default),
            ["quit"] => new PracticeOrder(PracticeOrderKind.Quit, 0, null, default),
            ["release", var strip] when IsStrip(strip, out var number) => new PracticeOrder(PracticeOrderKind.Release, number, null, default),
            ["feed", var strip, var db] when IsStrip(strip, out var number) && IsGain(db, out var gain) => new PracticeOrder(PracticeOrderKind.Feed, number, gain, default),
            ["grab", var strip, var db] when IsStrip(strip, out var number) && IsGain(db, out var gain) => new PracticeOrder(PracticeOrderKind.Grab, number, gain, default),
            ["grab", var strip, var db, "over", var time] when IsStrip(strip, out var number) && IsGain(db, out var gain) && IsTime(time, out var over) =>
                new PracticeOrder(PracticeOrderKind.Grab, number, gain, over),
            _ => null,
        };
        return order is not null || words.Length == 0;
    }

    private static bool IsStrip(string text, out int strip) =>
        int.TryParse(text, NumberStyles.None, CultureInfo.InvariantCulture, out strip) && strip is >= 1 and <= StripAddresses.MostStrips;

    private static bool IsGain(string text, out Decibels? gain)
    {
        gain = null;
        if (text == "off") return true;
        if (!double.TryParse(text.Replace('\u2212', '-'), NumberStyles.Float, CultureInfo.InvariantCulture, out var value) || !double.IsFinite(value)) return false;
        gain = Decibels.Of(value);
        return true;
    }

    private static bool IsTime(string text, out TimeSpan time)
    {
        var isTime = double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var seconds) && seconds is >= 0 and <= 3600;
        time = isTime ? TimeSpan.FromSeconds(seconds) : default;
        return isTime;
    }
}

/// <summary>What a desk to practise on can be told.</summary>
public enum PracticeOrderKind
{
    /// <summary>Take hold of a fader and move it.</summary>
    Grab,

    /// <summary>Let go of it.</summary>
    Release,

    /// <summary>Feed a strip with a level.</summary>
    Feed,

    /// <summary>Tell where all faders stand.</summary>
    Show,

    /// <summary>End.</summary>
    Quit,
}
