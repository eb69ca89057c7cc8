namespace Mixscore.Score.Tests;

// MusicXML 4.0, part-list, part-group.
public sealed class ScoreHeadTests
{
    private static string Part(string id) => $"<score-part id=\"{id}\"><part-name>{id}</part-name></score-part>";

    private static string Group(string number, string name) => $"<part-group type=\"start\" number=\"{number}\"><group-name>{name}</group-name></part-group>";

    private static string Stop(string number) => $"<part-group type=\"stop\" number=\"{number}\"/>";

    [Fact]
    public void Groups_have_the_parts_between_their_start_and_stop_and_may_overlap()
    {
        var list = Group("1", "North") + Part("P1") + Group("2", "Strings") + Part("P2") + Stop("1") + Part("P3") + Stop("2")
            + "<part-group type=\"start\" number=\"1\"><group-name-display><display-text>South</display-text></group-name-display></part-group>" + Part("P4");
        var parts = string.Concat(((string[])["P1", "P2", "P3", "P4"]).Select(id => $"<part id=\"{id}\"><measure number=\"1\"/></part>"));
        var score = Draw.Read($"<score-partwise><part-list>{list}</part-list>{parts}</score-partwise>");
        Assert.Equal(["North: P1 P2", "Strings: P2 P3", "South: P4"], score.Groups.Select(group => $"{group.Name}: {string.Join(' ', group.Parts)}"));
    }

    [Fact]
    public void A_part_says_how_many_staves_it_has_and_marks_know_theirs()
    {
        var score = Draw.Read(Draw.Partwise("<attributes><staves>2</staves></attributes><direction><direction-type><dynamics><p/></dynamics></direction-type><staff>2</staff></direction>" + Draw.Whole));
        Assert.Equal((2, 2), (score.Parts[0].Staves, score.Parts[0].Dynamics[0].Staff));
    }

    [Theory]
    [InlineData("Op. 9", "<work><work-title>Op. 9</work-title></work>")]
    [InlineData("Scherzo", "<movement-title>Scherzo</movement-title>")]
    [InlineData("Op. 9: Scherzo", "<work><work-title>Op. 9</work-title></work><movement-title>Scherzo</movement-title>")]
    [InlineData("Op. 9, Scherzo", "<work><work-title>Op. 9</work-title></work><movement-title>Op. 9, Scherzo</movement-title>")]
    public void The_title_is_that_of_the_work_and_of_the_movement(string title, string head) =>
        Assert.Equal(title, Draw.Read($"<score-partwise>{head}<part-list>{Part("P1")}</part-list><part id=\"P1\"><measure number=\"1\"/></part></score-partwise>").Title);

    [Fact]
    public void A_part_that_is_listed_and_has_no_music_is_named() =>
        Assert.Single(
            Draw.Read($"<score-partwise><part-list>{Part("P1")}{Part("P2")}</part-list><part id=\"P1\"><measure number=\"1\"/></part></score-partwise>").Warnings,
            warning => warning.Code == "MX054" && warning.Found.Contains("P2", StringComparison.Ordinal));
}
