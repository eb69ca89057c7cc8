using Mixscore.Planning.Tests.Levels;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Calls;

/// <summary>What a player is told. A cue is drawn as its bar and its best choice.</summary>
public sealed class CallScriptTests
{
    [Fact]
    public void The_count_in_is_counted_on_its_beats()
    {
        var cues = Cues(Scores.Repeat, CallChoice.Off, countIn: 1);
        Assert.Equal(["0: 1", "0: 2", "0: 3", "0: 4"], cues.Take(4).Select(Drawn));
        Assert.Equal([(-4, -3), (-3, -2), (-2, -1), (-1, 0)], cues.Take(4).Select(cue => (Math.Round(cue.From.Value, 6), Math.Round(cue.To.Value, 6))));
        Assert.All(cues.Take(4), cue => Assert.True(cue.IsOnBeat));
    }

    // Bars 1 to 4 twice, then 5: the way back is told, with the number after it.
    [Fact]
    public void Bars_are_called_before_they_come_and_again_when_they_come_again() =>
        Assert.Equal(["2: 2", "3: 3", "4: 4", "5: second time + 1", "6: 2", "7: 3", "8: 4", "9: 5"], Cues(Scores.Repeat, CallChoice.EveryBar).Select(Drawn));

    [Fact]
    public void Every_few_bars_and_letters_only()
    {
        Assert.Equal(["5: 5", "10: 10", "15: letter C + 15", "20: 20"], Cues(Scores.Twenty, new CallChoice(5, true)).Select(Drawn));
        Assert.Equal(["15: letter C"], Cues(Scores.Twenty, CallChoice.LettersOnly).Select(Drawn));
        Assert.Empty(Cues(Scores.Twenty, CallChoice.Off));
    }

    [Fact]
    public void Where_both_have_no_time_the_letter_is_said_and_then_the_number()
    {
        var cue = Cues(Scores.Twenty, CallChoice.EveryBar).Single(cue => cue.Bar == 15);
        Assert.Equal(["letter C + 15", "letter C", "15"], cue.Choices.Select(Said));
        Assert.Equal((52, 56), (cue.From.Value, cue.To.Value));
    }

    // Rests of two bars and more are told where they begin; the first bar has no room before it.
    [Fact]
    public void Rests_are_told_where_they_begin()
    {
        var rests = Enumerable.Range(1, 20).Select(bar => bar is 1 or 2 or (>= 6 and <= 9) or 12).ToArray();
        var timeline = Scores.Twenty;
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = 0 });
        Assert.Equal(["6: 4 bars rest", "15: letter C"], CallScript.Of(click, timeline, new CallSettings(), CallChoice.LettersOnly, rests).Select(Drawn));
    }

    [Theory]
    [InlineData("de-CH", "Buchstabe C + 15", "zweites Mal")]
    [InlineData("sv", "C + 15", null)]
    public void Phrases_are_the_languages_own(string language, string letter, string? again)
    {
        var settings = new CallSettings { Language = language };
        Assert.Equal(letter, Said(Cues(Scores.Twenty, CallChoice.EveryBar, settings).Single(cue => cue.Bar == 15).Choices[0]));
        Assert.Equal(again is null ? "1" : $"{again} + 1", Said(Cues(Scores.Repeat, CallChoice.EveryBar, settings).Single(cue => cue.Bar == 5).Choices[0]));
    }

    [Fact]
    public void A_plan_says_how_its_language_says_it()
    {
        var settings = new CallSettings { Language = "sv", Letter = "bokstav {}", Time = "gång {}" };
        Assert.Equal("bokstav C", Said(Cues(Scores.Twenty, CallChoice.LettersOnly, settings)[0].Choices[0]));
        Assert.Equal("gång 2", Said(Cues(Scores.Repeat, CallChoice.LettersOnly, settings)[0].Choices[0]));
    }

    private static IReadOnlyList<CallCue> Cues(Timeline timeline, CallChoice choice, CallSettings? settings = null, int countIn = 0)
    {
        var click = ClickTimes.Of(timeline, new ClickSettings { CountIn = countIn });
        return CallScript.Of(click, timeline, settings ?? new CallSettings(), choice, []);
    }

    private static string Drawn(CallCue cue) => $"{cue.Bar}: {Said(cue.Choices[0])}";

    private static string Said(IReadOnlyList<CallPart> parts) => string.Join(" + ", parts.Select(part => part.Text));
}
