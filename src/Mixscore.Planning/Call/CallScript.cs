using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>
/// What a player is told: the beats of the count-in; before each bar that is called its number, its letter, that it comes
/// again, and how long the player rests from there on.
/// </summary>
public static class CallScript
{
    /// <summary>Shorter rests are not announced. Our own choice.</summary>
    private const int ShortestRest = 2;

    /// <summary>The cues in order.</summary>
    /// <param name="click">The count-in and the piece.</param>
    /// <param name="timeline">The piece.</param>
    /// <param name="settings">The language and its phrases.</param>
    /// <param name="choice">Which bars are called.</param>
    /// <param name="rests">For each bar in played order whether the player rests through it; empty where that is not told.</param>
    public static IReadOnlyList<CallCue> Of(ClickTimes click, Timeline timeline, CallSettings settings, CallChoice choice, IReadOnlyList<bool> rests) =>
        [.. CountIn(click), .. Bars(timeline, new CallWords(settings), choice, rests)];

    /// <summary>For each bar whether a site's players rest through it: no note of any part of its voices and instruments.</summary>
    public static IReadOnlyList<bool> Rests(PlanOnScore plan, Performance performance, Site site)
    {
        var parts = plan.Sources.Where(source => source.Source.Site == site && source.Source.Role != Role.Ambient && source.Part is not null).Select(source => source.Part!.Id).ToHashSet(StringComparer.Ordinal);
        if (parts.Count == 0) return [];
        var rests = Enumerable.Repeat(true, plan.Timeline.Bars.Count).ToArray();
        foreach (var note in performance.Parts.Where(part => parts.Contains(part.Id)).SelectMany(part => part.Notes))
            for (var index = plan.Timeline.BarAt(note.Start).Index; index <= rests.Length && plan.Timeline.Bars[index - 1].Start < note.End; index++) rests[index - 1] = false;
        return rests;
    }

    private static IEnumerable<CallCue> CountIn(ClickTimes click)
    {
        var strokes = click.Strokes.Where(stroke => stroke.Bar < 1 && stroke.Led == BeatOf(click, stroke)).ToArray();
        for (var i = 0; i < strokes.Length; i++)
        {
            var to = i + 1 < strokes.Length ? strokes[i + 1].Time : Seconds.Zero;
            yield return new CallCue(strokes[i].Bar, strokes[i].Time, to, IsOnBeat: true, [[CallWords.Count(strokes[i].Beat)]]);
        }
    }

    private static Quarters BeatOf(ClickTimes click, ClickStroke stroke) =>
        click.CountIn.Led.Bars[stroke.Bar + click.CountIn.Bars - 1].Beats[stroke.Beat - 1];

    private static IEnumerable<CallCue> Bars(Timeline timeline, CallWords words, CallChoice choice, IReadOnlyList<bool> rests)
    {
        var letters = timeline.Letters.ToLookup(letter => timeline.Bars[letter.Bar - 1].Written, letter => letter.Name);
        var start = Seconds.Zero;
        // The first bar is what the count-in leads to, and has no room before it of its own.
        for (var i = 1; i < timeline.Bars.Count; i++)
        {
            var (bar, before) = (timeline.Bars[i], timeline.Bars[i - 1]);
            var to = timeline.Tempo.SecondsAt(bar.Start);
            var choices = Choices(bar, before, words, choice, letters[bar.Written], RestFrom(rests, i));
            if (choices.Count > 0) yield return new CallCue(bar.Index, start, to, IsOnBeat: false, choices);
            start = to;
        }
    }

    private static List<IReadOnlyList<CallPart>> Choices(PlayedBar bar, PlayedBar before, CallWords words, CallChoice choice, IEnumerable<string> letters, int rest)
    {
        var said = new List<CallPart>();
        if (choice.Letters) said.AddRange(letters.Select(words.Letter));
        var isCalled = choice.Calls(bar.Label);
        // Again: a stretch that was played before begins here.
        if ((choice.Letters || choice.Every > 0) && bar.Pass > 1 && (before.Pass != bar.Pass || before.Written + 1 != bar.Written) && words.Time(bar.Pass) is { } time) said.Add(time);
        var number = isCalled ? CallWords.Number(bar.Label) : (CallPart?)null;
        var pause = rest >= ShortestRest && (choice.Letters || choice.Every > 0) ? words.Rest(rest) : null;
        var choices = new List<IReadOnlyList<CallPart>>();
        void Offer(params CallPart?[] more)
        {
            CallPart[] parts = [.. said, .. more.OfType<CallPart>()];
            if (parts.Length > 0 && !choices.Exists(other => other.SequenceEqual(parts))) choices.Add(parts);
        }
        Offer(number, pause);
        Offer(pause);
        Offer(number);
        Offer();
        if (number is not null && !choices.Exists(other => other.Count == 1 && other[0] == number)) choices.Add([number.Value]);
        return choices;
    }

    /// <summary>How many bars of rest begin with a bar; 0 where none begin.</summary>
    private static int RestFrom(IReadOnlyList<bool> rests, int bar)
    {
        if (rests.Count == 0 || !rests[bar] || rests[bar - 1]) return 0;
        var to = bar;
        while (to < rests.Count && rests[to]) to++;
        return to - bar;
    }
}
