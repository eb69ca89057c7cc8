using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Reports;

/// <summary>One move of a fader: from a vertex of a ride to the next, where they differ.</summary>
/// <param name="From">Where it begins.</param>
/// <param name="To">Where it ends.</param>
/// <param name="At">Where it begins, as bar and beat, such as <c>17:3</c> or <c>17@2:1</c>.</param>
/// <param name="Start">The gain that it leaves; <c>null</c> for off.</param>
/// <param name="End">The gain that it reaches; <c>null</c> for off.</param>
/// <param name="Beats">Over how many beats; a fraction where a vertex stands between beats.</param>
public sealed record SheetMove(Quarters From, Quarters To, string At, Decibels? Start, Decibels? End, double Beats)
{
    /// <summary>As it stands on the sheet, such as <c>17:3 → −6.0 dB over 4 beats</c>.</summary>
    public string Text => string.Create(CultureInfo.InvariantCulture, $"{At} → {Gain(End)} over {Beats:0.##} beat{(Beats == 1 ? "" : "s")}");

    /// <summary>The moves of a ride, in order.</summary>
    public static IReadOnlyList<SheetMove> Of(Timeline timeline, Ride ride)
    {
        var moves = new List<SheetMove>();
        for (var i = 1; i < ride.Vertices.Count; i++)
        {
            var (from, to) = (ride.Vertices[i - 1], ride.Vertices[i]);
            if (from.Gain == to.Gain) continue;
            moves.Add(new SheetMove(from.At, to.At, BarAndBeat(timeline, from.At), from.Gain, to.Gain, Math.Round(BeatsTo(timeline, to.At) - BeatsTo(timeline, from.At), 6)));
        }
        return moves;
    }

    /// <summary>A gain with its sign and unit, or <c>off</c>.</summary>
    internal static string Gain(Decibels? gain) => gain is { } value ? $"{Signed(value.Value)} dB" : "off";

    /// <summary>A figure of one decimal with a true minus, or a plus.</summary>
    internal static string Signed(double value)
    {
        var rounded = Math.Round(value, 1) + 0.0;
        return string.Create(CultureInfo.InvariantCulture, $"{(rounded > 0 ? "+" : rounded < 0 ? "−" : "")}{Math.Abs(rounded):0.0}");
    }

    /// <summary>A place as bar and beat; the beat is told on a bar line, too.</summary>
    internal static string BarAndBeat(Timeline timeline, Quarters place)
    {
        var position = timeline.PositionAt(place);
        return position.IsEnd || position.Beat > 1 || position.WithinBeat > Fraction.Zero ? position.ToString() : position + ":1";
    }

    /// <summary>How many beats lie before a place.</summary>
    private static double BeatsTo(Timeline timeline, Quarters place)
    {
        var grid = timeline.BeatGrid;
        int low = 0, high = grid.Count - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (grid[middle] <= place) low = middle;
            else high = middle - 1;
        }
        return low + 1 < grid.Count ? low + ((place - grid[low]) / (grid[low + 1] - grid[low])).ToDouble() : low;
    }
}
