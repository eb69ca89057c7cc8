using Mixscore.Live;
using Mixscore.Score;

namespace Mixscore.Page;

/// <summary>A night's log laid over the score: where hands had each fader, where feeds were gone, and what was noted.</summary>
/// <param name="Sources">In the order of the plan.</param>
/// <param name="Notes">The engineer's marks: quarters and words.</param>
internal sealed record NightOnScore(IReadOnlyList<NightOnScore.Source> Sources, IReadOnlyList<(double At, string Text)> Notes)
{
    /// <summary>A hand rests where it was left unless it moves on within this time; our own figure.</summary>
    private static readonly TimeSpan Rests = TimeSpan.FromSeconds(0.5);

    /// <summary>How far back in the score a line of the log must lie to be a jump, in quarters: clocks tremble.</summary>
    private const double Back = 0.25;

    /// <summary>What happened to a source.</summary>
    /// <param name="Name">Its name.</param>
    /// <param name="Hands">Each time that a hand had it, straight between points in quarters and dB; <c>null</c> is off.</param>
    /// <param name="Drops">From where to where its feed was gone.</param>
    internal sealed record Source(string Name, IReadOnlyList<Polyline> Hands, IReadOnlyList<(double From, double To)> Drops);

    internal static NightOnScore Of(Night night, Timeline timeline, IEnumerable<string> sources)
    {
        double At(LogRecord line) => Math.Clamp(timeline.Tempo.QuartersAt(new Seconds(Math.Max(0, line.Seconds?.Value ?? 0))), 0, timeline.End.ToDouble());
        var tracks = sources.ToDictionary(name => name, name => new Track(name), StringComparer.Ordinal);
        var notes = new List<(double, string)>();
        var last = 0.0;
        foreach (var line in night.Lines)
        {
            if (line.Seconds is null) continue;
            var at = At(line);
            // The piece went back, was stopped, or begins anew: a hand that holds on is drawn on from there.
            if (at < last - Back || line.Kind is LogKind.Start)
                foreach (var track in tracks.Values) track.Turn(last, at);
            last = at;
            if (line is { Kind: LogKind.Mark, Text: { } text }) notes.Add((at, text));
            if (line.Source is { } name && tracks.TryGetValue(name, out var one)) one.Take(line, at);
        }
        foreach (var track in tracks.Values) track.End(last);
        return new NightOnScore([.. tracks.Values.Select(track => new Source(track.Name, track.Hands, track.Drops))], notes);
    }

    private sealed class Track(string name)
    {
        private Polyline? _hand;
        private double? _gain;
        private double? _gone;
        private TimeSpan _movedAt;
        private bool _returns;

        internal string Name => name;

        internal List<Polyline> Hands { get; } = [];

        internal List<(double From, double To)> Drops { get; private set; } = [];

        internal void Take(LogRecord line, double at)
        {
            switch (line.Kind)
            {
                case LogKind.Take or LogKind.Hand:
                    if (_hand is null || _returns) Begin();
                    else if (line.T - _movedAt > Rests) _hand.Add(at, _gain);
                    _hand!.Add(at, line.Gain?.Value);
                    (_gain, _movedAt, _returns) = (line.Gain?.Value, line.T, false);
                    break;
                case LogKind.Back when _hand is not null:
                    _hand.Add(at, _gain);
                    _returns = true;
                    break;
                case LogKind.Planned when _hand is not null:
                    _hand.Add(at, line.Gain?.Value);
                    Close();
                    break;
                case LogKind.Drop: _gone ??= at; break;
                case LogKind.Up when _gone is { } from:
                    Drops.Add((from, Math.Max(from, at)));
                    _gone = null;
                    break;
            }
        }

        internal void Turn(double from, double to)
        {
            if (_gone is { } since) (Drops, _gone) = (Dropped(since, from), to);
            if (_hand is null) return;
            _hand.Add(Math.Max(from, _hand.Points.Count > 0 ? _hand.Points[^1].At : 0), _gain);
            Close();
            Begin();
            _hand!.Add(to, _gain);
        }

        internal void End(double at)
        {
            if (_gone is { } since) Drops = Dropped(since, at);
            if (_hand is { } hand) hand.Add(Math.Max(at, hand.Points.Count > 0 ? hand.Points[^1].At : 0), _gain);
            Close();
        }

        private List<(double From, double To)> Dropped(double from, double to) => [.. Drops, (from, Math.Max(from, to))];

        private void Begin() => Hands.Add(_hand = new Polyline());

        private void Close() => (_hand, _returns) = (null, false);
    }
}
