using System.Globalization;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>
/// All moves of all faders in the order of time. A source's moves follow its ride later by its site's delay; each value
/// is held until the next. Between vertices the fader stays within 0.25 dB of the ride, at vertices it is exact (to the
/// numbers of the wire), and it is off exactly where the ride is off; a MIDI wire without room for all of that gives up
/// the smallest errors first.
/// </summary>
public sealed class DeskMoves
{
    /// <summary>Where steps of OSC moves fall, in seconds, so that one bundle carries many: the rate of the live run.</summary>
    public const double Tick = 0.02;

    private DeskMoves(DeskMap map, IReadOnlyList<DeskMove> moves, IReadOnlyList<SourceMoves> sources, int peakBytes) =>
        (Map, Moves, Sources, PeakBytes) = (map, moves, sources, peakBytes);

    /// <summary>The map that they are made for.</summary>
    public DeskMap Map { get; }

    /// <summary>The moves; at one time in the order of the rides.</summary>
    public IReadOnlyList<DeskMove> Moves { get; }

    /// <summary>What each source's come to, in the order of the rides.</summary>
    public IReadOnlyList<SourceMoves> Sources { get; }

    /// <summary>The most bytes in any second, without running status or bundles.</summary>
    public int PeakBytes { get; }

    /// <summary>The moves of rides.</summary>
    /// <param name="timeline">The piece.</param>
    /// <param name="plan">The plan that the rides belong to.</param>
    /// <param name="rides">At most one a source.</param>
    /// <param name="map">The desk; checked against the plan by <see cref="DeskMapCheck"/>.</param>
    /// <exception cref="ArgumentException">A ride's source is not in the plan, or its strip has no address on the desk.</exception>
    public static DeskMoves Of(Timeline timeline, MixPlan plan, IReadOnlyList<Ride> rides, DeskMap map)
    {
        var law = map.Fader.Law;
        var sources = rides.Select(ride => plan.Sources.FirstOrDefault(source => source.Name == ride.Source)
            ?? throw new ArgumentException($"the plan has no source {ride.Source}", nameof(rides))).ToList();
        var bytes = sources.Select(source => map.Fader.Control.BytesOf(source.Strip)).ToList();
        var wires = rides.Select((ride, i) => new WireRide(ride, timeline.Tempo, sources[i].Site.Link.Delay, law)).ToList();
        double? tick = map.Protocol == DeskProtocol.Osc ? Tick : null;
        IReadOnlyList<List<DeskMove>> wanted = [.. wires.Select((wire, i) => RideSteps.Of(wire, sources[i], law, tick))];
        var sent = map.Protocol == DeskProtocol.Midi ? MidiWire.Carry(wires, law, bytes, wanted) : wanted;

        var merged = sent.SelectMany((moves, i) => moves.Select(move => (move, i))).OrderBy(pair => pair.move.At).ThenBy(pair => pair.i).ToList();
        var peak = MidiWire.Peak([.. merged.Select(pair => (pair.move.At.Value, bytes[pair.i]))]);
        var report = wires.Select((wire, i) => new SourceMoves(sources[i], sent[i].Count, sent[i].Count * bytes[i], wanted[i].Count - sent[i].Count,
            MoveErrors.Worst(wire, law, sent[i]), NoteOn(rides[i], law)));
        return new DeskMoves(map, [.. merged.Select(pair => pair.move)], [.. report], peak);
    }

    private static string? NoteOn(Ride ride, FaderLaw law)
    {
        var gains = ride.Vertices.Where(vertex => vertex.Gain is not null).Select(vertex => vertex.Gain!.Value.Value).ToList();
        if (gains.Count == 0) return null;
        var culture = CultureInfo.InvariantCulture;
        if (gains.Max() > law.Highest.Value + 1e-9)
            return string.Create(culture, $"{ride.Source} asks for {gains.Max():0.0} dB, and the desk's fader ends at {law.Highest}");
        return gains.Min() < law.Lowest.Value - 1e-9
            ? string.Create(culture, $"{ride.Source} asks for {gains.Min():0.0} dB, and below {law.Lowest} the desk's fader is off")
            : null;
    }
}
