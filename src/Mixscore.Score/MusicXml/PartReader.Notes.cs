using System.Globalization;

namespace Mixscore.Score;

internal sealed partial class PartReader
{
    private static readonly Dictionary<string, int> Steps = new()
    {
        ["C"] = 0,
        ["D"] = 2,
        ["E"] = 4,
        ["F"] = 5,
        ["G"] = 7,
        ["A"] = 9,
        ["B"] = 11,
    };

    private void TakeNote(Element note)
    {
        var isGrace = note.Has("grace");
        var isChord = note.Has("chord");
        var length = isGrace ? Quarters.Zero : Duration(note) ?? Quarters.Zero;
        var start = isChord ? _chordStart : _at;
        if (!isChord) _chordStart = _at;
        TakeNotations(note, new WrittenPlace(_bar.Number, start));
        if (!note.Has("rest") && !note.Has("cue")) _notes.Add(Note(note, start, length));
        if (!isChord && !isGrace) Move(length, note);
    }

    private WrittenNote Note(Element note, Quarters start, Quarters length)
    {
        var staff = note.WholeOf("staff") ?? 1;
        return new WrittenNote(
            new WrittenPlace(_bar.Number, start),
            length,
            Pitch(note, staff),
            note.All("tie").Any(tie => tie["type"] == "stop"),
            Syllable(note),
            Passes(note["time-only"]),
            staff);
    }

    /// <summary>The sounding key: the written pitch with the transposition of its staff. Quarter tones are rounded.</summary>
    private int? Pitch(Element note, int staff)
    {
        if (note.Child("pitch") is not { } pitch || !Steps.TryGetValue(pitch.TextOf("step") ?? "", out var step) || pitch.WholeOf("octave") is not { } octave)
            return null;
        if (octave is < -1 or > 10) return null;
        var key = 12 * (octave + 1) + step + Rounded(pitch.TextOf("alter")) + _transposeByStaff.GetValueOrDefault(staff, _transpose);
        return key is >= 0 and <= 127 ? key : null;
    }

    /// <summary>The first verse's syllable, its elided vowels together.</summary>
    private static string? Syllable(Element note)
    {
        Element? first = null;
        foreach (var lyric in note.All("lyric"))
            if (lyric.Has("text") && (first is null || string.CompareOrdinal(lyric["number"] ?? "", first["number"] ?? "") < 0)) first = lyric;
        if (first is null) return null;
        var text = string.Concat(first.Children.Where(child => child.Name is "text" or "elision").Select(child => child.Name == "text" ? child.Text : "‿"));
        return text.Length > 0 ? text : null;
    }

    private void TakeNotations(Element note, WrittenPlace at)
    {
        foreach (var notations in note.All("notations"))
            foreach (var child in notations.Children)
                if (child.Name == "fermata") draft.Fermatas.Add(at);
                else if (child.Name == "dynamics") TakeDynamics(child, at, note.WholeOf("staff") ?? 1, null);
    }

    /// <summary>A list of passes from <c>time-only</c>, or <c>null</c> where it says nothing.</summary>
    private static List<int>? Passes(string? text)
    {
        if (text is null) return null;
        var passes = new List<int>();
        foreach (var one in text.Split(',', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
            if (int.TryParse(one, NumberStyles.None, CultureInfo.InvariantCulture, out var pass) && pass > 0) passes.Add(pass);
        return passes.Count > 0 ? passes : null;
    }
}
