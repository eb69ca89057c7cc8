namespace Mixscore.Score;

/// <summary>
/// The bars in the order in which they are played, with beats, exact quarters and seconds by the click. Positions are
/// resolved here. Immutable; safe for any number of readers.
/// </summary>
public sealed class Timeline
{
    /// <summary>How close, in quarters, two places may lie before a clock of seconds cannot tell them apart.</summary>
    private const double Indistinct = 1e-10;

    private readonly Quarters[] _starts;
    private readonly Dictionary<(int Movement, string Label), List<int>> _byLabel = [];
    private readonly bool _labelsRepeat;
    private readonly int[] _anchors;   // for each bar, the nearest one not behind it that its own number finds

    /// <summary>A timeline of bars that follow one another without gap, and of a tempo map over them.</summary>
    /// <param name="bars">At least one, in played order, the first at zero.</param>
    /// <param name="letters">Rehearsal letters in the order in which they are met.</param>
    /// <param name="tempo">Quarters to seconds.</param>
    /// <exception cref="ArgumentException">There is no bar, or a gap or overlap between two.</exception>
    public Timeline(IReadOnlyList<PlayedBar> bars, IReadOnlyList<PlayedLetter> letters, TempoMap tempo)
    {
        if (bars.Count == 0) throw new ArgumentException("a timeline needs a bar", nameof(bars));
        var at = Quarters.Zero;
        foreach (var bar in bars)
        {
            if (bar.Start != at) throw new ArgumentException($"bar {bar} begins at {bar.Start}, not at {at} quarters", nameof(bars));
            at = bar.End;
        }
        (Bars, Letters, Tempo, End) = (bars, letters, tempo, at);
        _starts = [.. bars.Select(bar => bar.Start)];
        var beats = new List<Quarters>(bars.Sum(bar => bar.Beats.Count) + 1);
        foreach (var bar in bars)
        {
            beats.AddRange(bar.Beats);
            if (!_byLabel.TryGetValue((bar.Movement, bar.Label), out var same)) _byLabel[(bar.Movement, bar.Label)] = same = [];
            same.Add(bar.Index - 1);
        }
        _anchors = new int[bars.Count];
        for (var i = 0; i < bars.Count; i++) _anchors[i] = IsFoundByNumber(bars[i]) ? i : _anchors[Math.Max(0, i - 1)];
        beats.Add(End);
        BeatGrid = beats;
        _labelsRepeat = bars.Any(bar => bar.Movement > 1);
    }

    /// <summary>The bars in played order.</summary>
    public IReadOnlyList<PlayedBar> Bars { get; }

    /// <summary>Rehearsal letters in the order in which they are met.</summary>
    public IReadOnlyList<PlayedLetter> Letters { get; }

    /// <summary>Quarters to seconds and back.</summary>
    public TempoMap Tempo { get; }

    /// <summary>Where the piece ends.</summary>
    public Quarters End { get; }

    /// <summary>How long the piece lasts by the click.</summary>
    public Seconds Duration => Tempo.SecondsAt(End);

    /// <summary>Every beat of every bar in order, and the end of the piece: where vertices may stand.</summary>
    public IReadOnlyList<Quarters> BeatGrid { get; }

    /// <summary>The bar that sounds at a place; the first before the start, the last at the end and after.</summary>
    public PlayedBar BarAt(Quarters place)
    {
        var found = Array.BinarySearch(_starts, place);
        return Bars[found >= 0 ? found : Math.Max(0, ~found - 1)];
    }

    /// <summary>The bar that sounds at a place given as a real number of quarters from the start.</summary>
    public PlayedBar BarAt(double quarters)
    {
        int low = 0, high = _starts.Length - 1;
        while (low < high)
        {
            var middle = (low + high + 1) / 2;
            if (_starts[middle].ToDouble() <= quarters) low = middle;
            else high = middle - 1;
        }
        return Bars[low];
    }

    /// <summary>
    /// The place that sounds at a time by the click, exact: of all fractions that the time cannot be told apart from,
    /// the simplest. A time that came from a place gives that place again.
    /// </summary>
    /// <param name="time">From the start; earlier times give the start, later ones the end.</param>
    public Quarters PlaceAt(Seconds time)
    {
        var quarters = Tempo.QuartersAt(time);
        if (!(quarters > 0)) return Quarters.Zero;
        if (quarters >= End.ToDouble()) return End;
        return Quarters.Min(End, new Quarters(SimplestFraction.Near(quarters, Indistinct * Math.Max(1, quarters / 1000))));
    }

    /// <summary>The position that sounds at a time by the click.</summary>
    /// <param name="time">From the start; earlier times give the start, the end and later ones <see cref="Position.End"/>.</param>
    public Position PositionAt(Seconds time) => PositionAt(PlaceAt(time));

    /// <summary>
    /// The position of a place, as a bar with its pass, a beat and a part of the beat. A bar that its number does not find,
    /// since an earlier one of the movement bears it too, is named by the bars after the nearest one that is found.
    /// </summary>
    /// <param name="place">From the start, 0 or later; the end of the piece or later gives <see cref="Position.End"/>.</param>
    public Position PositionAt(Quarters place)
    {
        if (place >= End) return Position.End;
        var bar = BarAt(place);
        var anchor = Bars[_anchors[bar.Index - 1]];
        var beat = 0;
        while (beat + 1 < bar.Beats.Count && bar.Beats[beat + 1] <= place) beat++;
        var length = (beat + 1 < bar.Beats.Count ? bar.Beats[beat + 1] : LastBeatEnd(bar)) - bar.Beats[beat];
        return new Position
        {
            Movement = _labelsRepeat ? anchor.Movement : null,
            Anchor = anchor.Label,
            Pass = anchor.Pass > 1 ? anchor.Pass : null,
            BarsAfter = bar.Index - anchor.Index,
            Beat = beat + 1,
            WithinBeat = (place - bar.Beats[beat]) / length,
        };
    }

    /// <summary>Finds a position.</summary>
    /// <param name="position">As written.</param>
    /// <param name="place">Where it lies, from the start of the piece.</param>
    /// <param name="problem">Why there is no such place, in words that a person can act on; <c>null</c> if there is.</param>
    public bool TryResolve(Position position, out Quarters place, out string? problem)
    {
        place = End;
        problem = null;
        if (position.IsEnd) return true;
        if (FindBar(position, out problem) is not { } index) return false;
        if (index + position.BarsAfter >= Bars.Count)
        {
            problem = $"{position} lies past the end; the last bar is {Bars[^1]}";
            return false;
        }
        var bar = Bars[index + position.BarsAfter];
        if (position.Beat > bar.Beats.Count)
        {
            problem = $"bar {bar} has {bar.Beats.Count} beat{(bar.Beats.Count == 1 ? "" : "s")} ({bar.Meter}), so there is no beat {position.Beat}";
            return false;
        }
        var start = bar.Beats[position.Beat - 1];
        var end = position.Beat < bar.Beats.Count ? bar.Beats[position.Beat] : LastBeatEnd(bar);
        place = start + (end - start) * position.WithinBeat;
        if (place < bar.End) return true;
        problem = $"{position} lies past the end of its bar";
        return false;
    }

    /// <summary>The first of the written bars of a movement that bear a number is the one that the number finds.</summary>
    private bool IsFoundByNumber(PlayedBar bar) =>
        Position.IsAnchor(bar.Label) && Bars[_byLabel[(bar.Movement, bar.Label)][0]].Written == bar.Written;

    private int? FindBar(Position position, out string? problem)
    {
        problem = null;
        var matches = Matches(position);
        if (matches.Count == 0)
        {
            problem = $"there is no bar or letter \"{position.Anchor}\"{(position.Movement is { } m ? $" in movement {Roman.Write(m)}" : "")}; "
                + $"bars run from {Bars[0]} to {Bars[^1]}{(Letters.Count > 0 ? ", letters are " + string.Join(' ', Letters.Select(l => l.Name).Distinct()) : "")}";
            return null;
        }
        var pass = position.Pass ?? 1;
        if (pass <= matches.Count) return matches[pass - 1];
        problem = $"\"{position.Anchor}\" is played {(matches.Count == 1 ? "once" : $"{matches.Count} times")}, so there is no pass {pass}";
        return null;
    }

    /// <summary>Indices of the played bars that an anchor names, pass by pass.</summary>
    private List<int> Matches(Position position)
    {
        foreach (var letter in Letters)
            if (letter.Name == position.Anchor && (position.Movement ?? Bars[letter.Bar - 1].Movement) == Bars[letter.Bar - 1].Movement
                && !_byLabel.ContainsKey((Bars[letter.Bar - 1].Movement, letter.Name)))
            {
                var written = Bars[letter.Bar - 1].Written;
                return [.. Bars.Where(bar => bar.Written == written).Select(bar => bar.Index - 1)];
            }
        if (position.Movement is { } movement)
            return _byLabel.TryGetValue((movement, position.Anchor), out var there) ? OnePassEach(there) : [];
        foreach (var m in Bars.Select(bar => bar.Movement).Distinct())
            if (_byLabel.TryGetValue((m, position.Anchor), out var anywhere)) return OnePassEach(anywhere);
        return [];
    }

    /// <summary>Where two written bars share a number (a split bar), the number means the first of them.</summary>
    private List<int> OnePassEach(List<int> indices)
    {
        var written = Bars[indices[0]].Written;
        return [.. indices.Where(i => Bars[i].Written == written)];
    }

    /// <summary>Where the last beat of a bar would end by the meter, which may lie past a short bar's end.</summary>
    private static Quarters LastBeatEnd(PlayedBar bar)
    {
        var last = bar.Beats.Count - 1;
        return bar.Beats[last] + (last < bar.Meter.Beats.Count ? bar.Meter.Beats[last] : bar.Meter.Unit);
    }
}
