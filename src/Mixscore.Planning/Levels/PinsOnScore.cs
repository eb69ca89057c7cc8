using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>Finds the places of a source's pins and refuses those that no fader could keep.</summary>
internal sealed class PinsOnScore(Timeline timeline, Limits limits, VertexGrid vertices, FaultList faults)
{
    private const double Hair = 1e-9;

    private readonly FaderGrid _grid = new(timeline, limits, vertices);

    /// <summary>The pins of a source in order; those at fault are left out and told.</summary>
    internal IReadOnlyList<Pin> Of(string source, IReadOnlyList<WrittenPin> written)
    {
        var placed = new List<(Pin Pin, WrittenPin Written)>();
        foreach (var pin in written)
            if (Find(source, pin) is { } found) placed.Add((found, pin));
        placed.Sort((a, b) => a.Pin.From.CompareTo(b.Pin.From) is var order && order != 0 ? order : a.Pin.To.CompareTo(b.Pin.To));
        var kept = new List<(Pin Pin, WrittenPin Written)>();
        foreach (var next in placed)
            if (kept.Count == 0 || Follows(source, kept[^1], next)) kept.Add(next);
        return [.. kept.Select(pin => pin.Pin)];
    }

    private Pin? Find(string source, WrittenPin pin)
    {
        var spoken = Spoken(source, pin);
        Quarters from, to;
        if (pin.To is null)
        {
            if (!timeline.TryResolve(pin.From, out from, out var problem))
            {
                faults.Add(PlanFault.NotInScore, pin.Place, $"{spoken}: {problem}", "write a position that the score has");
                return null;
            }
            to = from;
        }
        else
        {
            if (Span.Find(pin.From, pin.To, pin.Place, spoken, timeline, faults) is not { } span) return null;
            (from, to) = (span.From, span.To!.Value);
        }
        foreach (var place in (Quarters[])[from, to])
            if (_grid.PlaceOf(_grid.AtOrBefore(place)) != place)
            {
                faults.Add(PlanFault.PinOffBeat, pin.Place, $"{spoken}: {WhereItStands}", "write a place on which vertices stand, or change grid, which is beats, halves or bars");
                return null;
            }
        foreach (var gain in (double[])[pin.Start.Value, pin.End.Value])
            if (gain < limits.Bottom.Value || gain > limits.Top.Value)
            {
                faults.Add(PlanFault.OutOfRange, pin.Place, $"{spoken}: {Number(gain)} dB is beyond the fader", $"write a gain from {Number(limits.Bottom.Value)} to {Number(limits.Top.Value)} dB, or change the fader under limits");
                return null;
            }
        var move = Math.Abs(pin.End.Value - pin.Start.Value);
        var (first, last) = (_grid.AtOrBefore(from), _grid.AtOrBefore(to));
        for (var beat = first; beat < last; beat++)
            if (move > _grid.Steepest[beat] * (to - from).ToDouble() + Hair)
            {
                faults.Add(PlanFault.PinTooFast, pin.Place, $"{spoken}: it moves {Number(move)} dB, faster than the limit of {Number(limits.Speed)} dB/s", "give it a longer range, or a smaller move");
                return null;
            }
        return new Pin(from, to, pin.Start, pin.End, pin.Place);
    }

    private string WhereItStands => vertices switch
    {
        VertexGrid.Bars => "it stands within a bar, and vertices stand on bar lines",
        VertexGrid.Halves => "it stands neither on a beat nor half-way to the next",
        _ => "it stands between two beats",
    };

    private bool Follows(string source, (Pin Pin, WrittenPin Written) before, (Pin Pin, WrittenPin Written) next)
    {
        var (a, b) = (before.Pin, next.Pin);
        if (b.From < a.To || (b.From == a.To && (b.Start != a.End || (a.From == a.To && b.From == b.To))))
        {
            faults.Add(PlanFault.Overlap, b.Place, $"{Spoken(source, next.Written)} overlaps the pin on line {a.Place.Line}", "keep one of the two, or let the one end where the other begins, on the same gain");
            return false;
        }
        var room = _grid.MostMove(_grid.AtOrBefore(a.To), _grid.AtOrBefore(b.From));
        var move = Math.Abs((b.Start - a.End).Value);
        if (move <= room + Hair) return true;
        faults.Add(PlanFault.PinTooFast, b.Place,
            $"{Spoken(source, next.Written)}: from the pin on line {a.Place.Line} the fader would have to move {Number(move)} dB, and the limit of {Number(limits.Speed)} dB/s allows {Number(room)}",
            "set the two further apart, or nearer in gain");
        return false;
    }

    private static string Spoken(string source, WrittenPin pin) => $"{source}, pin at {RangeText.Spoken(pin.To is null ? $"{pin.From}" : $"{pin.From}..{pin.To}")}";

    private static string Number(double value) => value.ToString("0.##", CultureInfo.InvariantCulture);
}
