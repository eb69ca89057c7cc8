using System.Globalization;

namespace Mixscore.Score;

/// <summary>Reads one part, bar by bar, and keeps what goes on from one bar to the next: divisions, meter, place, open hairpins.</summary>
internal sealed partial class PartReader(ScoreDraft draft, int index, string id, string name)
{
    /// <summary>The longest bar, in quarters.</summary>
    private const int LongestBar = 4096;

    /// <summary>The finest division of a quarter that is believed.</summary>
    private const long FinestDivisions = 1_000_000;

    private const int MostStaves = 64;

    private readonly Dictionary<int, int> _transposeByStaff = [];
    private readonly List<WrittenNote> _notes = [];

    private Fraction _divisions = new(1);
    private bool _divisionsKnown;
    private MeterSign? _meter;
    private MeterSign? _meterToCome;
    private int _transpose;
    private BarDraft _bar = null!;
    private InnerBarline _next = new();   // what the right barline begins
    private Quarters _at;
    private Quarters _full;
    private Quarters _chordStart;
    private int _bars;

    internal string Id => id;

    internal string Name => name;

    internal int Index => index;

    /// <summary>How many staves the part has, as far as it says.</summary>
    internal int Staves { get; private set; } = 1;

    internal int Bars => _bars;

    /// <summary>How far this part goes in each of its bars.</summary>
    internal List<Quarters> Lengths { get; } = [];

    internal List<WrittenNote> Notes => _notes;

    private Notices Notices => draft.Notices;

    private WrittenPlace Here => new(_bar.Number, _at);

    private string Title => name.Length > 0 ? $"{id} ({name.ReplaceLineEndings(" ")})" : id;

    /// <summary>Reads one bar of the part.</summary>
    /// <param name="number">Its place in the file, from 1.</param>
    /// <param name="content">The element that holds the notes.</param>
    internal void Read(int number, Element content)
    {
        if (number <= _bars)
        {
            Notices.Warn("MX039", content.Line, content["number"] ?? "", $"part {Title} comes twice; the first one is taken");
            return;
        }
        _bar = draft.BarAt(number, content["number"], content.Line);
        while (_bars < number) NextBar();
        _bar.RepeatStarts |= _next.RepeatStarts;
        _bar.EndingStart ??= _next.EndingStart;
        _next = new InnerBarline();
        foreach (var child in content.Children) Take(child);
        if (_full > new Quarters(LongestBar))
            Notices.Error("MX008", content.Line, content.Column, $"bar {_bar.Label} of part {Title} lasts {_full} quarters", $"a bar may last {LongestBar} quarters at most; look for a wrong duration or divisions");
        Lengths[^1] = _full;
        _bar.Length = Quarters.Max(_bar.Length, _full);
        if (_meter is not null) _bar.Offer(index, _meter);
    }

    /// <summary>Moves every place of the part to other bars.</summary>
    internal void Replace(Func<WrittenPlace, WrittenPlace> moved, List<Quarters> lengths)
    {
        ScoreDraft.Change(_notes, note => note with { Start = moved(note.Start) });
        ScoreDraft.Change(_dynamics, mark => mark with { At = moved(mark.At) });
        ScoreDraft.Change(_hairpins, hairpin => hairpin with { From = moved(hairpin.From), To = moved(hairpin.To) });
        ScoreDraft.Change(_soundLevels, level => level with { At = moved(level.At) });
        ScoreDraft.Change(_words, words => words with { At = moved(words.At), To = words.To is { } to ? moved(to) : null });
        Lengths.Clear();
        Lengths.AddRange(lengths);
        _bars = lengths.Count;
    }

    private void NextBar()
    {
        _bars++;
        Lengths.Add(Quarters.Zero);
        _at = Quarters.Zero;
        _full = Quarters.Zero;
        _chordStart = Quarters.Zero;
        if (_meterToCome is not null) (_meter, _meterToCome) = (_meterToCome, null);
    }

    private void Take(Element element)
    {
        switch (element.Name)
        {
            case "note":
                TakeNote(element);
                break;
            case "backup":
                if (Duration(element) is { } back) Move(Quarters.Zero - back, element);
                break;
            case "forward":
                if (Duration(element) is { } on) Move(on, element);
                break;
            case "attributes":
                TakeAttributes(element);
                break;
            case "direction":
                TakeDirection(element);
                break;
            case "sound":
                TakeSound(element, Here, null);
                if (Loudness(element) is { } percent) _soundLevels.Add(new SoundLevel(Moved(Here, element.Child("offset"), always: true), percent));
                break;
            case "barline":
                TakeBarline(element);
                break;
            case "bookmark" or "grouping" or "figured-bass":
                break;
            default:
                Notices.Warn("MX030", element.Line, _bar.Label, $"part {Title}: <{element.Name}> is not understood");
                break;
        }
    }

    private void Move(Quarters by, Element element)
    {
        var to = _at + by;
        if (to < Quarters.Zero)
        {
            Notices.Error("MX008", element.Line, element.Column, $"bar {_bar.Label} of part {Title}: <{element.Name}> goes back past the start of the bar", "its duration must not be longer than what stands before it in the bar");
            to = Quarters.Zero;
        }
        _at = to;
        _full = Quarters.Max(_full, to);
    }

    /// <summary>A duration in quarters; <c>null</c>, with an error or a warning, where there is none that can be used.</summary>
    private Quarters? Duration(Element element)
    {
        var duration = element.Child("duration");
        if (duration is null)
        {
            Notices.Warn("MX031", element.Line, _bar.Label, $"part {Title}: a <{element.Name}> has no duration and takes no time");
            return null;
        }
        if (ExactNumber.TryParse(duration.Text, out var value) && value >= Fraction.Zero)
        {
            if (!_divisionsKnown && value > Fraction.Zero)
            {
                Notices.Warn("MX032", element.Line, _bar.Label, $"part {Title}: there are no divisions before the first duration; 1 is taken");
                _divisionsKnown = true;
            }
            return new Quarters(value / _divisions);
        }
        Notices.Error("MX008", duration.Line, duration.Column, $"bar {_bar.Label} of part {Title}: \"{Cut(duration.Text)}\" is not a duration", "a duration is a number of divisions, 0 or more");
        return null;
    }

    private void TakeAttributes(Element attributes)
    {
        foreach (var child in attributes.Children)
            switch (child.Name)
            {
                case "divisions":
                    if (ExactNumber.TryParse(child.Text, out var divisions) && divisions > Fraction.Zero && divisions <= new Fraction(FinestDivisions))
                        (_divisions, _divisionsKnown) = (divisions, true);
                    else
                        Notices.Error("MX007", child.Line, child.Column, $"bar {_bar.Label} of part {Title}: \"{Cut(child.Text)}\" divisions a quarter cannot be", $"divisions are above 0 and at most {FinestDivisions}");
                    break;
                case "staves":
                    if (int.TryParse(child.Text, NumberStyles.None, CultureInfo.InvariantCulture, out var staves)) Staves = Math.Clamp(staves, Staves, MostStaves);
                    break;
                case "time":
                    TakeMeter(child);
                    break;
                case "transpose":
                    var semitones = Rounded(child.TextOf("chromatic")) + 12 * Rounded(child.TextOf("octave-change"));
                    if (WholeAttribute(child, "number") is { } staff) _transposeByStaff[staff] = semitones;
                    else
                    {
                        _transpose = semitones;
                        _transposeByStaff.Clear();
                    }
                    break;
            }
    }

    private void TakeMeter(Element time)
    {
        if (time["number"] is not (null or "1") && _meter is not null) return;   // a staff of its own; the top one's counts
        if (MeterReader.Read(time) is not { } meter)
        {
            Notices.Warn("MX033", time.Line, _bar.Label, $"part {Title}: a time signature cannot be read; the meter before it goes on");
            return;
        }
        if (_at == Quarters.Zero) (_meter, _meterToCome) = (meter, null);
        else if (_meter is null || !_meter.Equals(meter))
        {
            _meterToCome = meter;
            Notices.Warn("MX034", time.Line, _bar.Label, "the meter changes inside the bar; it holds from the next barline");
        }
    }

    private static int? WholeAttribute(Element element, string attribute) =>
        int.TryParse(element[attribute], NumberStyles.None, CultureInfo.InvariantCulture, out var value) ? value : null;

    private static int Rounded(string? text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && Math.Abs(value) < 1000
            ? (int)Math.Round(value, MidpointRounding.AwayFromZero)
            : 0;

    private static string Cut(string text) => text.Length <= 20 ? text : text[..20] + "…";
}
