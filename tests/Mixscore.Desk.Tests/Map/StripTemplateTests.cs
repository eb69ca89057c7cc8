using CsCheck;

namespace Mixscore.Desk.Tests.Map;

public class StripTemplateTests
{
    [Theory]
    [InlineData("/strip/{strip}/fader", 7, "/strip/7/fader")]
    [InlineData("/ch/{strip:00}/level", 7, "/ch/07/level")]
    [InlineData("/ch/{ strip + 15 : 000 }/{strip}", 7, "/ch/022/7")]
    [InlineData("{strip - 1}", 1, "0")]
    [InlineData("{(strip - 1) / 8 + 1}", 17, "3")]
    [InlineData("{(strip - 1) % 8}", 17, "0")]
    [InlineData("{2 * strip + 3 * 4}", 5, "22")]
    [InlineData("{10 - strip - 2}", 3, "5")]
    [InlineData("{(strip - 9) / 4}", 8, "-1")]
    [InlineData("5", 9, "5")]
    public void A_formula_is_worked_out_for_a_strip(string text, int strip, string expected) => Assert.Equal(expected, StripTemplate.Parse(text).For(strip));

    [Theory]
    [InlineData("/strip/{strip", "\"/strip/{strip\" has a \"{\" that is never closed")]
    [InlineData("/strip/strip}", "\"/strip/strip}\" has a \"}\" without a \"{\"")]
    [InlineData("{stripe}", "\"stripe\" in \"stripe\" is not understood; write {strip}, or arithmetic such as {strip - 1}")]
    [InlineData("{strip -}", "\"strip -\" breaks off; write {strip}, or arithmetic such as {strip - 1}")]
    [InlineData("{}", "\"\" breaks off; write {strip}, or arithmetic such as {strip - 1}")]
    [InlineData("{(strip}", "\"(strip\" breaks off; write {strip}, or arithmetic such as {strip - 1}")]
    [InlineData("{strip:xx}", "\":xx\" is not a number of digits; write :00 for two")]
    [InlineData("{strip 1}", "\"1\" in \"strip 1\" is not understood; write {strip}, or arithmetic such as {strip - 1}")]
    [InlineData("{99999999999}", "\"99999999999\" in \"99999999999\" is not understood; write {strip}, or arithmetic such as {strip - 1}")]
    public void A_formula_that_cannot_be_read_says_why(string text, string expected)
    {
        Assert.False(StripTemplate.TryParse(text, out var template, out var problem));
        Assert.Null(template);
        Assert.Equal(expected, problem);
    }

    [Theory, InlineData("{1 / (strip - 1)}"), InlineData("{strip % (strip - 1)}"), InlineData("{strip * 2147483647 * 2}")]
    public void A_formula_without_an_answer_gives_none(string text) => Assert.Null(StripTemplate.Parse(text).For(1));

    [Theory, InlineData("/a/{strip}", true), InlineData("/a/{7}", false), InlineData("/a", false)]
    public void It_is_known_whether_strips_differ(string text, bool uses) => Assert.Equal(uses, StripTemplate.Parse(text).UsesStrip);

    // Fuzz: any text is read or refused with words, and what is read has an answer or none for any strip.
    [Fact]
    public void Any_text_is_read_or_refused() => Gen.Select(Gen.Char["{}()strip+-*/%:0 19"].Array[0, 24], Gen.Int[1, 200]).Sample((signs, strip) =>
    {
        if (StripTemplate.TryParse(new string(signs), out var template, out var problem)) _ = template!.For(strip);
        else Assert.NotEmpty(problem!);
    }, iter: 3000);
}
