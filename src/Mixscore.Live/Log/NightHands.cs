using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>
/// What the hands did in a night, laid on the score: walks through a log from line to line and notes for each source what stood
/// on it over the places that were played between the two. Where a place was played several times, what stood there last counts.
/// </summary>
public sealed class NightHands
{
    /// <summary>How much faster than the clock of day a clock from outside may run, and how far it may be out, before two lines are a jump; our own figures.</summary>
    private const double Faster = 1.5, Out = 0.3;

    private readonly Timeline _timeline;
    private readonly Painted<bool> _played = new();
    private readonly Dictionary<string, Hand> _hands;
    private (TimeSpan T, double Seconds)? _from;
    private bool _isRunning;
    private double _apart;
    private TimeSpan? _heldAll;
    private int _lost;

    private NightHands(LivePlan plan)
    {
        _timeline = plan.Timeline;
        _hands = plan.Sources.ToDictionary(source => source.Source.Name, source => new Hand(source.Source.Site.Link.Delay.Value), StringComparer.Ordinal);
    }

    /// <summary>What the hands did.</summary>
    /// <param name="night">The log.</param>
    /// <param name="plan">The plan as it is now, for where positions lie and for the rides where the log holds none.</param>
    /// <param name="notes">What could not be read, in words; empty for a whole log.</param>
    public static FoldNight Of(Night night, LivePlan plan, out IReadOnlyList<string> notes)
    {
        var hands = new NightHands(plan);
        foreach (var line in night.Lines) hands.Take(line);
        var heads = night.Lines.Where(line => line.Kind is LogKind.Begin or LogKind.Resume).ToArray();
        var rides = heads.Select(head => NightRides.Read(head, plan.Timeline, plan.Limits.Bottom)).LastOrDefault(found => found.Count > 0);
        notes = [.. hands.Notes(night, rides is not null)];
        return new FoldNight
        {
            Date = night.Head?.Date,
            Hall = night.Head?.Hall,
            IsRehearsal = night.Head?.IsRehearsal ?? false,
            Played = [.. hands._played.Pieces.Select(piece => (piece.From, piece.To))],
            Sources = [.. plan.Sources.Select(source => new NightSource(source.Source.Name, rides?.GetValueOrDefault(source.Source.Name) ?? source.Ride, hands._hands[source.Source.Name].Stretches))],
        };
    }

    private IEnumerable<string> Notes(Night night, bool hasRides)
    {
        if (night.Broken.Count > 0) yield return $"{(night.Broken.Count == 1 ? "line" : "lines")} {string.Join(", ", night.Broken)} cannot be read; the rest is folded";
        if (night.Head is null) yield return "the log has no head: neither its date nor whether it was a rehearsal is known";
        if (_lost > 0) yield return $"{_lost} {(_lost == 1 ? "line stands" : "lines stand")} at places that the score no longer has";
        if (!hasRides) yield return "the log does not hold the rides that it was played with; it is taken against the rides as they are now";
        if (night.Lines[^1].Kind != LogKind.End) yield return $"the log ends without an end, at {night.Lines.Select(line => line.At).LastOrDefault(at => at is not null) ?? "no place"}; what came after is not known";
    }

    private void Take(LogRecord line)
    {
        if (line.At is not null && SecondsOf(line) is { } here) GoTo(line, here);
        switch (line.Kind)
        {
            case LogKind.Start: (_isRunning, _apart) = (true, 0); break;
            case LogKind.Stop: (_isRunning, _from) = (false, null); break;
            case LogKind.Stay or LogKind.Release or LogKind.Turn: _apart = line.Value ?? _apart; break;
            case LogKind.HoldAll: _heldAll = line.T; break;
            default: TakeSource(line); break;
        }
    }

    private double? SecondsOf(LogRecord line)
    {
        if (NightPlace.Of(line, _timeline) is { } place) return _timeline.Tempo.SecondsAt(place).Value;
        _lost++;
        return null;
    }

    private void GoTo(LogRecord line, double here)
    {
        if (_isRunning && line.Kind != LogKind.Start && _from is { } from)
        {
            // Where it turned, the place before is as far off as score and clock were moved.
            var reached = line.Kind == LogKind.Turn && line.Value is { } apart ? here - (apart - _apart) : here;
            var (music, time) = (reached - from.Seconds, (line.T - from.T).TotalSeconds);
            if (music > 0 && music <= (time * Faster) + Out) Paint(from.Seconds, reached);
        }
        _from = (line.T, here);
    }

    private void Paint(double from, double to)
    {
        _played.Paint(Quarters(from), Quarters(to), true);
        foreach (var hand in _hands.Values) hand.Over(Quarters(from - hand.Delay), Quarters(to - hand.Delay));
    }

    private double Quarters(double seconds) => _timeline.Tempo.QuartersAt(new Seconds(Math.Clamp(seconds, 0, _timeline.Duration.Value)));

    private void TakeSource(LogRecord line)
    {
        if (line.Source is not { } name || !_hands.TryGetValue(name, out var hand)) return;
        switch (line.Kind)
        {
            case LogKind.Take or LogKind.Hand:
                hand.Taken = (line.Gain, line.Kind == LogKind.Take && _heldAll == line.T);
                break;
            case LogKind.Back or LogKind.Planned: hand.Taken = null; break;
            case LogKind.Offset: hand.Offset = line.Gain ?? Decibels.Zero; break;
            case LogKind.Drop: hand.IsGone = true; break;
            case LogKind.Up: hand.IsGone = false; break;
            default: break;
        }
    }

    /// <summary>What stands on one source as the log goes on, and what stood on it where.</summary>
    private sealed class Hand(double delay)
    {
        private readonly Painted<(HandKind Kind, Decibels? Gain)?> _painted = new();

        internal double Delay => delay;

        internal (Decibels? Gain, bool WithAll)? Taken { get; set; }

        internal Decibels Offset { get; set; }

        internal bool IsGone { get; set; }

        internal IReadOnlyList<HandStretch> Stretches =>
            [.. _painted.Pieces.Where(piece => piece.Value is not null).Select(piece => new HandStretch(piece.From, piece.To, piece.Value!.Value.Kind, piece.Value.Value.Gain))];

        internal void Over(double from, double to) => _painted.Paint(from, to, Stands);

        private (HandKind, Decibels?)? Stands => this switch
        {
            { IsGone: true, Taken: not null } or { IsGone: true, Offset.Value: not 0 } => (HandKind.FeedGone, null),
            { Taken: { WithAll: true } held } => (HandKind.HeldWithAll, held.Gain),
            { Taken: { } taken } => (HandKind.Hand, taken.Gain),
            { Offset.Value: not 0 } => (HandKind.Offset, Offset),
            _ => null,
        };
    }
}
