using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>
/// The tempo map of a Standard MIDI File: whole microseconds a quarter from ticks on. Each stretch aims at the time that
/// the timeline gives to its end, counted from the start of the piece, so roundings never add up.
/// </summary>
internal sealed class FileTempo
{
    /// <summary>Ticks a quarter, doubled for slow tempi until none is longer than <see cref="LongestTick"/>.</summary>
    private const int UsualTicks = 960, MostTicks = 15360;

    private const double LongestTick = 0.002;

    /// <summary>How far a time inside a stretch of changing tempo may be from the timeline, in seconds.</summary>
    private const double Bend = 0.0001;

    /// <summary>Half a microsecond a quarter is lost to rounding; after so many quarters that is 32 microseconds.</summary>
    private const double LongestStretch = 64;

    /// <summary>The greatest tempo that 24 bits hold (Standard MIDI Files 1.0, meta event 51).</summary>
    private const int MostMicroseconds = 0xFFFFFF;

    private readonly List<long> _ticks = [];
    private readonly List<int> _tempi = [];
    private readonly List<long> _passed = [];   // microseconds times ticks, exact

    private FileTempo(int ticksPerQuarter) => TicksPerQuarter = ticksPerQuarter;

    /// <summary>Ticks a quarter.</summary>
    public int TicksPerQuarter { get; }

    /// <summary>Where the tempo changes, and the microseconds a quarter from there on; the first at 0.</summary>
    public IEnumerable<(long Tick, int Microseconds)> Changes => _ticks.Zip(_tempi);

    /// <summary>Where the score first goes slower than a file can say; <c>null</c> where it never does.</summary>
    public Quarters? TooSlow { get; private set; }

    /// <summary>The tempo map of a timeline.</summary>
    public static FileTempo Of(Timeline timeline)
    {
        var slowest = timeline.Tempo.Pieces.Where(piece => piece.From < timeline.End).Min(piece => Math.Min(piece.StartTempo, piece.EndTempo));
        var ticks = UsualTicks;
        while (ticks < MostTicks && 60 / slowest / ticks > LongestTick) ticks *= 2;
        var tempo = new FileTempo(ticks);
        tempo.Fill(timeline);
        return tempo;
    }

    /// <summary>The tick nearest to a place.</summary>
    public long TickOf(Quarters place) => (long)Math.Round(place.ToDouble() * TicksPerQuarter);

    /// <summary>When a tick sounds by the file, in seconds.</summary>
    public double SecondsAt(double tick)
    {
        var i = Before(_ticks, (long)Math.Floor(tick));
        return (_passed[i] + (tick - _ticks[i]) * _tempi[i]) / (1e6 * TicksPerQuarter);
    }

    /// <summary>The place in ticks, a fraction included, that sounds at a time by the file.</summary>
    public double TickAt(double seconds)
    {
        var passed = seconds * 1e6 * TicksPerQuarter;
        var i = Before(_passed, (long)Math.Floor(passed));
        return _ticks[i] + (passed - _passed[i]) / _tempi[i];
    }

    private void Fill(Timeline timeline)
    {
        var pieces = timeline.Tempo.Pieces;
        var end = timeline.End.ToDouble();
        for (var i = 0; i < pieces.Count && pieces[i].From < timeline.End; i++)
        {
            var from = pieces[i].From.ToDouble();
            var to = i + 1 < pieces.Count ? Math.Min(pieces[i + 1].From.ToDouble(), end) : end;
            // A chord leaves a curve f by at most h²·max|f''|/8 over a step h; seconds over quarters have f'' = −60·v'/v².
            var (slowest, change) = (Math.Min(pieces[i].StartTempo, pieces[i].EndTempo), Math.Abs(pieces[i].EndTempo - pieces[i].StartTempo));
            var bend = 60 * change * (to - from) / (8 * slowest * slowest);
            var stretches = (int)Math.Ceiling(Math.Max(Math.Sqrt(bend / Bend), (to - from) / LongestStretch));
            for (var k = 0; k < stretches; k++)
                Stretch(timeline, from + (to - from) * k / stretches, from + (to - from) * (k + 1) / stretches, pieces[i].From);
        }
        if (_ticks.Count == 0) Change(0, 500_000);
    }

    private void Stretch(Timeline timeline, double from, double to, Quarters piece)
    {
        var (first, last) = ((long)Math.Round(from * TicksPerQuarter), (long)Math.Round(to * TicksPerQuarter));
        if (first >= last) return;
        var sofar = _ticks.Count == 0 ? 0 : _passed[^1] + (first - _ticks[^1]) * _tempi[^1];
        var due = timeline.Tempo.SecondsAt((double)last / TicksPerQuarter).Value * 1e6 * TicksPerQuarter;
        var tempo = Math.Round((due - sofar) / (last - first));
        if (tempo > MostMicroseconds) TooSlow ??= piece;
        Change(first, (int)Math.Clamp(tempo, 1, MostMicroseconds));
    }

    private void Change(long tick, int microseconds)
    {
        if (_tempi.Count > 0 && _tempi[^1] == microseconds) return;
        _passed.Add(_ticks.Count == 0 ? 0 : _passed[^1] + (tick - _ticks[^1]) * _tempi[^1]);
        _ticks.Add(tick);
        _tempi.Add(microseconds);
    }

    private static int Before(List<long> ascending, long value)
    {
        var found = ascending.BinarySearch(value);
        return found >= 0 ? found : Math.Max(0, ~found - 1);
    }
}
