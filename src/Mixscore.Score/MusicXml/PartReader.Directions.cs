using System.Globalization;

namespace Mixscore.Score;

internal sealed partial class PartReader
{
    /// <summary>The tempi that are believed, in quarters a minute.</summary>
    private const double SlowestTempo = 1, FastestTempo = 3000;

    /// <summary>The most hairpins that one part can have open at once.</summary>
    private const int MostOpen = 64;

    private readonly List<DynamicMark> _dynamics = [];
    private readonly List<Hairpin> _hairpins = [];
    private readonly List<DynamicWords> _words = [];
    private readonly List<SoundLevel> _soundLevels = [];
    private readonly List<OpenHairpin> _open = [];
    private int? _dashed;

    internal List<DynamicMark> Dynamics => _dynamics;

    internal List<Hairpin> Hairpins => _hairpins;

    internal List<DynamicWords> DynamicWords => _words;

    internal List<SoundLevel> SoundLevels => _soundLevels;

    private sealed record OpenHairpin(string Number, int Staff, WrittenPlace From, bool Grows, bool Niente, int Line, string Bar);

    private void TakeDirection(Element direction)
    {
        var staff = direction.WholeOf("staff") ?? 1;
        var at = Moved(Here, direction.Child("offset"), always: false);
        var sound = direction.Child("sound");
        var percent = sound is null ? null : Loudness(sound);
        var spoken = new List<Jump>();
        var said = _dynamics.Count + _words.Count;
        foreach (var type in direction.All("direction-type"))
        {
            TakeWords(type, at, staff, spoken);
            foreach (var child in type.Children)
                switch (child.Name)
                {
                    case "rehearsal":
                        draft.AddLetter(child.Text, _bar.Number);
                        break;
                    case "dynamics":
                        TakeDynamics(child, at, staff, percent);
                        break;
                    case "wedge":
                        TakeWedge(child, at, staff);
                        break;
                    case "dashes":
                        TakeDashes(child, at);
                        break;
                    case "metronome":
                        TakeMetronome(child, at);
                        break;
                    case "segno" or "coda":
                        spoken.Add(new Jump(child.Name == "segno" ? JumpKind.Segno : JumpKind.Coda, WordsOnly: true));
                        break;
                }
        }
        if (percent is { } alone && said == _dynamics.Count + _words.Count) _soundLevels.Add(new SoundLevel(Moved(at, sound!.Child("offset"), always: true), alone, staff));
        if (sound is not null) TakeSound(sound, at, spoken);
        foreach (var jump in WithoutOwnSigns(spoken)) _bar.Add(jump, at.Offset);
    }

    /// <summary>A segno beside "D.S.", or a coda sign beside "To Coda" or "al Coda", only illustrates the words.</summary>
    private static IEnumerable<Jump> WithoutOwnSigns(List<Jump> spoken) => spoken.Where(jump =>
        !(jump.Kind == JumpKind.Segno && spoken.Exists(other => other.Kind == JumpKind.DalSegno))
        && !(jump.Kind == JumpKind.Coda && spoken.Exists(other => other.Kind is JumpKind.ToCoda or JumpKind.DalSegno or JumpKind.DaCapo)));

    private void TakeWords(Element type, WrittenPlace at, int staff, List<Jump> spoken)
    {
        // A phrase may be cut into several <words> where its typeface changes.
        var text = string.Join(' ', type.All("words").Select(words => words.Text)).Trim();
        if (text.Length == 0) return;
        if (SpokenWords.Order(text) is { } jump) spoken.Add(jump);
        if (PrintedTempo.Read(text) is { } tempo)
        {
            Notices.Warn("MX046", type.Line, _bar.Label, $"the tempo stands in words (\"{Cut(text)}\"); it is taken as a metronome mark", "say the tempo in the plan's tempo: if another is meant");
            AddTempo(at, tempo, isRelation: false, isSound: false, type.Line);
        }
        if (SpokenWords.Tempo(text) is { } change) draft.AddGradual(new GradualTempo(at, text, change));
        TakeLoudness(text, at, staff);
    }

    private void TakeLoudness(string text, WrittenPlace at, int staff)
    {
        if (SpokenWords.Loudness(text) is not { } loudness) return;
        _words.Add(new DynamicWords(at, text, loudness, null, staff));
        if (loudness is LoudnessChange.Grows or LoudnessChange.Falls) _dashed = _words.Count - 1;
    }

    private void TakeDashes(Element dashes, WrittenPlace at)
    {
        if (dashes["type"] != "stop" || _dashed is not { } words) return;
        if (at >= _words[words].At) _words[words] = _words[words] with { To = at };
        _dashed = null;
    }

    private void TakeDynamics(Element dynamics, WrittenPlace at, int staff, double? percent)
    {
        foreach (var mark in dynamics.Children)
        {
            var text = mark.Name == "other-dynamics" ? mark.Text : mark.Name;
            _dynamics.Add(new DynamicMark(at, text, staff, percent));
            if (mark.Name == "other-dynamics") TakeLoudness(text, at, staff);
        }
    }

    private void TakeWedge(Element wedge, WrittenPlace at, int staff)
    {
        var number = wedge["number"] ?? "1";
        var niente = wedge["niente"] == "yes";
        switch (wedge["type"])
        {
            case "crescendo" or "diminuendo":
                if (_open.Find(open => open.Number == number && open.Staff == staff) is { } unclosed) Close(unclosed, at, false, stopped: false);
                if (_open.Count == MostOpen) Close(_open[0], at, false, stopped: false);
                _open.Add(new OpenHairpin(number, staff, at, wedge["type"] == "crescendo", niente, wedge.Line, _bar.Label));
                break;
            case "stop":
                var closed = _open.Find(open => open.Number == number && open.Staff == staff)
                    ?? _open.Find(open => open.Number == number)
                    ?? _open.Find(open => open.Staff == staff);
                if (closed is null) Notices.Warn("MX037", wedge.Line, _bar.Label, $"part {Title}: a hairpin stops that never began");
                else Close(closed, at, niente, stopped: true);
                break;
        }
    }

    private void Close(OpenHairpin open, WrittenPlace at, bool niente, bool stopped)
    {
        _open.Remove(open);
        if (!stopped) Notices.Warn("MX038", open.Line, open.Bar, $"part {Title}: a hairpin has no stop; it ends where the next begins, or with its bar");
        _hairpins.Add(new Hairpin(open.From, at >= open.From ? at : open.From, open.Grows, open.Niente || niente, open.Staff));
    }

    private void TakeMetronome(Element metronome, WrittenPlace at)
    {
        if (MetronomeReader.Read(metronome) is not { } mark)
        {
            Notices.Warn("MX040", metronome.Line, _bar.Label, "a metronome mark cannot be read; the tempo before it goes on", "say the tempo in the plan's tempo:");
            return;
        }
        if (mark.IsRange) Notices.Warn("MX041", metronome.Line, _bar.Label, $"a metronome mark gives a range (\"{Cut(metronome.TextOf("per-minute") ?? "")}\"); its middle is taken", "say the tempo in the plan's tempo:");
        AddTempo(at, mark.QuartersPerMinute, mark.IsRelation, isSound: false, metronome.Line);
    }

    private void AddTempo(WrittenPlace at, double tempo, bool isRelation, bool isSound, int line)
    {
        if (!isRelation && tempo is not (>= SlowestTempo and <= FastestTempo))
            Notices.Warn("MX042", line, _bar.Label, string.Create(CultureInfo.InvariantCulture, $"a tempo of {tempo:0.###} quarters a minute is not believed; the tempo before it goes on"), "say the tempo in the plan's tempo:");
        else draft.Tempo.Add(new TempoDraft(at, tempo, isRelation, isSound, index, line));
    }

    /// <summary>Takes the marks for playing; <paramref name="spoken"/> are the words beside them, which they overrule.</summary>
    private void TakeSound(Element sound, WrittenPlace at, List<Jump>? spoken)
    {
        at = Moved(at, sound.Child("offset"), always: true);
        if (Number(sound["tempo"]) is { } tempo) AddTempo(at, tempo, isRelation: false, isSound: true, sound.Line);
        if (sound["forward-repeat"] == "yes") _bar.RepeatStarts = true;
        var passes = Passes(sound["time-only"]);
        Sign(JumpKind.Segno, sound["segno"]);
        Sign(JumpKind.Coda, sound["coda"]);
        Sign(JumpKind.DaCapo, sound["dacapo"] == "yes" ? "" : null);
        Sign(JumpKind.DalSegno, sound["dalsegno"]);
        Sign(JumpKind.ToCoda, sound["tocoda"]);
        Sign(JumpKind.Fine, sound["fine"] is null or "no" ? null : "");

        void Sign(JumpKind kind, string? token)
        {
            if (token is null) return;
            var until = JumpUntil.Unsaid;
            if (spoken?.Find(jump => jump.Kind == kind || (IsBack(jump.Kind) && IsBack(kind))) is { } beside)
            {
                until = beside.Until;
                spoken.Remove(beside);
                if (beside.Kind != kind) Notices.Warn("MX043", sound.Line, _bar.Label, $"the words say {Named(beside.Kind)} but the mark for playing says {Named(kind)}; the mark is taken");
            }
            _bar.Add(new Jump(kind, token, passes, until), at.Offset);
        }
    }

    private static bool IsBack(JumpKind kind) => kind is JumpKind.DaCapo or JumpKind.DalSegno;

    private static string Named(JumpKind kind) => kind == JumpKind.DaCapo ? "da capo" : "dal segno";

    /// <summary>An offset moves only the print unless it says that it moves the sound; a sound's own always does.</summary>
    private WrittenPlace Moved(WrittenPlace at, Element? offset, bool always)
    {
        if (offset is null || !(always || offset["sound"] == "yes") || !ExactNumber.TryParse(offset.Text, out var by)) return at;
        return at with { Offset = Quarters.Max(Quarters.Zero, at.Offset + new Quarters(by / _divisions)) };
    }

    /// <summary>The loudness for playing that a sound gives, in percent of forte; <c>null</c> for none.</summary>
    private static double? Loudness(Element sound) => Number(sound["dynamics"]) is { } percent and >= 0 ? percent : null;

    private static double? Number(string? text) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out var value) && double.IsFinite(value) ? value : null;

    /// <summary>Ends what the part left open.</summary>
    internal void Finish()
    {
        foreach (var open in _open.ToList())
            Close(open, new WrittenPlace(open.From.Bar, draft.Bars[open.From.Bar - 1].Length), false, stopped: false);
    }
}
