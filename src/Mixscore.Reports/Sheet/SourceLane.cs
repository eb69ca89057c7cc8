using Mixscore.Planning;

namespace Mixscore.Reports;

/// <summary>The lane of one source over a stretch: in grey how loud it should be heard, in black the fader.</summary>
internal sealed class SourceLane(Canvas canvas, SheetFrame frame, BarStretch stretch, PlanOnScore plan, SheetRow row)
{
    /// <summary>Levels from here to 0 LU and a little over it fill the lane.</summary>
    private const double LowestLevel = -36, HighestLevel = 4;

    /// <summary>Points between two samples of a level.</summary>
    private const double Step = 2;

    internal void Draw(double top, double height)
    {
        var bottom = top + height;
        Level(top, bottom);
        canvas.Line(frame.LaneLeft, bottom, frame.Right, bottom, 0.5);
        Pins(bottom);
        Widened(top, bottom);
        Ride(top, bottom);
    }

    private void Level(double top, double bottom)
    {
        var area = new List<(double, double)>();
        for (var x = frame.LaneLeft; x <= frame.Right; x += Step)
        {
            var quarters = stretch.From.ToDouble() + (x - frame.LaneLeft) / frame.LaneWidth * (stretch.To - stretch.From).ToDouble();
            if (SheetLeads.Level(plan, row.Name, quarters) is { } level)
                area.Add((x, bottom - (bottom - top) * (Math.Clamp(level, LowestLevel + 1, HighestLevel) - LowestLevel) / (HighestLevel - LowestLevel)));
            else
            {
                canvas.Area(area, bottom);
                area.Clear();
            }
        }
        canvas.Area(area, bottom);
    }

    private void Ride(double top, double bottom)
    {
        var ride = row.Fitted.Ride;
        var points = new List<(double, double)>();
        var places = ride.Vertices.Select(vertex => vertex.At).Where(at => at > stretch.From && at < stretch.To).Select(at => at.ToDouble());
        double[] all = [stretch.From.ToDouble(), .. places, stretch.To.ToDouble()];
        for (var i = 0; i + 1 < all.Length; i++)
        {
            // Between two vertices a ride is straight; where it comes from or goes to off it runs to the fader's bottom.
            if (ride.At((all[i] + all[i + 1]) / 2) is null)
            {
                Flush();
                continue;
            }
            points.Add((stretch.X(all[i]), Y(ride.At(all[i])?.Value)));
            points.Add((stretch.X(all[i + 1]), Y(ride.At(all[i + 1])?.Value)));
        }
        Flush();
        foreach (var vertex in ride.Vertices)
            if (vertex.Gain is { } gain && vertex.At >= stretch.From && (vertex.At < stretch.To || (stretch.IsLast && vertex.At == stretch.To)))
                canvas.Dot(stretch.X(vertex.At), Y(gain.Value), 1.9);

        void Flush()
        {
            canvas.Curve(points, 1.4);
            points.Clear();
        }

        // The lower half of the fader's range has a fifth of the lane, as on a fader.
        double Y(double? gain)
        {
            var (least, most) = (plan.Plan.Limits.Bottom.Value, plan.Plan.Limits.Top.Value);
            var (value, knee) = (gain ?? least, (least + most) / 2);
            var part = value >= knee ? 0.2 + 0.8 * (value - knee) / (most - knee) : 0.2 * (value - least) / (knee - least);
            return bottom - (bottom - top) * Math.Clamp(part, 0, 1);
        }
    }

    private void Pins(double bottom)
    {
        foreach (var pin in row.Planned.Pins)
            if (pin.To >= stretch.From && pin.From < stretch.To)
                canvas.Fill(stretch.X(pin.From) - 1, bottom - 2.5, Math.Max(3, stretch.X(pin.To) - stretch.X(pin.From)), 2.5);
    }

    private void Widened(double top, double bottom)
    {
        foreach (var spot in row.Fitted.Widened)
            if (spot.To > stretch.From && spot.From < stretch.To)
            {
                var (x, right) = (stretch.X(spot.From), stretch.X(spot.To));
                canvas.Line(x, top, right, top, 1.2, isDashed: true);
                canvas.Line(x, bottom, right, bottom, 1.2, isDashed: true);
                canvas.Text("!", x + 1, top + 10, SheetFrame.Body, isBold: true);
            }
    }
}
