using System.Globalization;

namespace Mixscore.Score;

/// <summary>
/// Makes a score of a MIDI file: bars from its time signatures, tempi, markers as letters, tracks (or the channels of a
/// single one) as parts. The last bar ends where the file ends.
/// </summary>
internal static class MidiScore
{
    /// <summary>What a quarter is taken to be in a file that counts seconds: half a second, the default tempo.</summary>
    private static readonly Fraction QuartersPerSecond = new(2);

    internal static WrittenScore Read(Stream stream, string file)
    {
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        var notices = new Notices(file);
        var midi = MidiFile.Read(bytes, file, notices);
        var quarter = midi.IsSmpte ? midi.Division / QuartersPerSecond : midi.Division;
        var grid = MidiBars.Of(midi, quarter, notices, file);
        var score = new WrittenScore
        {
            File = file,
            Title = Title(midi),
            CountsSeconds = midi.IsSmpte,
            Bars = grid.Bars,
            Parts = MidiParts.Of(midi, quarter, grid, notices),
            Tempo = Tempi(midi, quarter, grid, notices),
            Letters = Letters(midi, quarter, grid),
            Warnings = [],
        };
        Countable.Require(score);
        return score with { Warnings = notices.Warnings };
    }

    /// <summary>The name of the first track, unless that is a part with notes among others.</summary>
    private static string Title(MidiFile midi)
    {
        var first = midi.Tracks[0].Events;
        return midi.Tracks.Count > 1 && first.Exists(one => one.Kind == MidiEventKind.NoteOn)
            ? ""
            : first.Find(one => one.Kind == MidiEventKind.TrackName).Text ?? "";
    }

    private static List<WrittenTempo> Tempi(MidiFile midi, Fraction quarter, MidiBars grid, Notices notices)
    {
        var byPlace = new SortedDictionary<WrittenPlace, double>();
        foreach (var one in midi.Tracks.SelectMany(track => track.Events).Where(one => one.Kind == MidiEventKind.Tempo))
        {
            if (midi.IsSmpte) notices.Warn("MX025", 0, "", "the file counts seconds, so its tempo events change nothing");
            else if (one.Value == 0) notices.Warn("MX026", 0, "", "a tempo event of 0 microseconds a quarter; the tempo before it goes on");
            else byPlace[grid.PlaceOf(new Quarters(new Fraction(one.Tick) / quarter))] = 60e6 / one.Value;
        }
        return [.. byPlace.Where(mark => mark.Key.Offset < grid.Bars[mark.Key.Bar - 1].Length).Select(mark => new WrittenTempo(mark.Key, mark.Value))];
    }

    private static List<WrittenLetter> Letters(MidiFile midi, Fraction quarter, MidiBars grid) =>
    [
        .. midi.Tracks.SelectMany(track => track.Events)
            .Where(one => one.Kind == MidiEventKind.Marker && one.Text.Length > 0)
            .OrderBy(one => one.Tick)
            .Select(one => new WrittenLetter(one.Text, grid.PlaceOf(new Quarters(new Fraction(one.Tick) / quarter)).Bar))
            .Distinct(),
    ];
}

/// <summary>The bars of a MIDI file.</summary>
internal sealed class MidiBars
{
    private readonly Quarters[] _starts;

    private MidiBars(List<WrittenBar> bars, List<Quarters> starts) => (Bars, _starts) = (bars, [.. starts]);

    internal IReadOnlyList<WrittenBar> Bars { get; }

    internal static MidiBars Of(MidiFile midi, Fraction quarter, Notices notices, string file)
    {
        var end = new Quarters(new Fraction(midi.Tracks.Max(track => track.End)) / quarter);
        if (end == Quarters.Zero) throw new InputException(new Fault("MX006", new Place(file), "the file has no music: it ends where it begins", "export the MIDI file again"));
        var lastOnset = new Quarters(new Fraction(midi.Tracks.SelectMany(track => track.Events).Where(one => one.Kind == MidiEventKind.NoteOn).Select(one => one.Tick).DefaultIfEmpty(0).Max()) / quarter);
        var changes = Changes(midi, quarter, notices);
        var bars = new List<WrittenBar>();
        var starts = new List<Quarters>();
        var meter = Meter.Common;
        var next = 0;
        for (var at = Quarters.Zero; at < end;)
        {
            while (next < changes.Count && changes[next].At <= at) meter = changes[next++].Meter;
            var length = meter.Length;
            if (next < changes.Count && changes[next].At < at + length)
            {
                length = changes[next].At - at;
                notices.Warn("MX027", 0, Label(bars.Count), "the meter changes inside the bar; the bar ends there");
            }
            var over = end - (at + length);
            // A release that hangs a little over the last barline is no bar of its own.
            var isLast = over <= Quarters.Zero || (lastOnset < at + length && over < meter.Unit * new Fraction(1, 2));
            if (isLast) length = end - at;
            if (bars.Count == ScoreDraft.MostBars)
                throw new InputException(new Fault("MX002", new Place(file), $"the file has more than {ScoreDraft.MostBars} bars", "split it into movements"));
            starts.Add(at);
            bars.Add(new WrittenBar { Number = bars.Count + 1, Label = Label(bars.Count), Meter = meter, Length = length });
            at += length;
        }
        return new MidiBars(bars, starts);
    }

    /// <summary>The bar at a place from the start, and how far into it; the end of the piece belongs to the last bar.</summary>
    internal WrittenPlace PlaceOf(Quarters at)
    {
        var found = Array.BinarySearch(_starts, at);
        var bar = found >= 0 ? found : ~found - 1;
        return new WrittenPlace(bar + 1, at - _starts[bar]);
    }

    private static string Label(int index) => (index + 1).ToString(CultureInfo.InvariantCulture);

    private static List<(Quarters At, Meter Meter)> Changes(MidiFile midi, Fraction quarter, Notices notices)
    {
        var changes = new List<(Quarters At, Meter Meter)>();
        foreach (var one in midi.Tracks.SelectMany(track => track.Events).Where(one => one.Kind == MidiEventKind.Meter).OrderBy(one => one.Tick))
        {
            if (one.Value is < 1 or > 128 || one.Second > 10)
            {
                notices.Warn("MX028", 0, "", $"a time signature of {one.Value} over 2 to the power of {one.Second} is not believed; the meter before it goes on");
                continue;
            }
            var meter = Meter.Simple(one.Value, 1 << one.Second);
            var at = new Quarters(new Fraction(one.Tick) / quarter);
            if (changes.Count > 0 && changes[^1].At == at) changes[^1] = (at, meter);
            else if (changes.Count == 0 ? !(at > Quarters.Zero && meter.Equals(Meter.Common)) : !changes[^1].Meter.Equals(meter)) changes.Add((at, meter));
        }
        return changes;
    }
}
