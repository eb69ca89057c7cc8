using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

public sealed class PlanTemplateTests
{
    private static readonly NewSite[] Sites = [new("north", Seconds.FromMilliseconds(38)), new("tower-2", new Seconds(0.0125))];

    private static readonly NewSource[] Sources =
    [
        new("north.voice", Role.Voice, "stems/north-voice.wav", 1, "P1"),
        new("tower-2.engine", Role.Ambient, "stems/a, b.wav", 12, "Horn: in F"),
        new("north.horn", Role.Instrument, "stems/h.wav", 3),
    ];

    [Fact]
    public void A_new_plan_reads_back_as_what_was_asked_for()
    {
        var plan = Plans.Read(PlanTemplate.Write("Night: Ferry", "night ferry.musicxml", Sites, Sources));
        Assert.Equal(("Night: Ferry", "night ferry.musicxml"), (plan.Title, plan.Score));
        Assert.Equal(Sites, plan.Sites.Select(site => new NewSite(site.Name, site.Link.Delay)));
        Assert.Equal(Sources,
            plan.Sources.Select(source => new NewSource(source.Name, source.Role, source.Stem, source.Strip, source.Part)));
        Assert.Empty(plan.Levels);
        Assert.Equal(new Limits(), plan.Limits);
    }

    [Fact]
    public void A_new_plan_names_its_schema_in_the_first_line_and_lines_its_columns_up()
    {
        var lines = PlanTemplate.Write("T", "t.xml", Sites, Sources).Split('\n');
        Assert.Equal("# yaml-language-server: $schema=mix.schema.json", lines[0]);
        Assert.Equal("title: T", lines[1]);
        Assert.Contains("  north.voice:    { role: voice,      stem: stems/north-voice.wav, strip: 1, part: P1 }", lines);
        Assert.Contains("  tower-2.engine: { role: ambient,    stem: \"stems/a, b.wav\",      strip: 12, part: \"Horn: in F\" }", lines);
    }

    // The comments teach the language, so what they show must be right.
    [Fact]
    public void What_the_comments_show_can_be_read()
    {
        var text = PlanTemplate.Write("T", "t.xml", Sites, Sources);
        foreach (var commented in new[] { "tempo:", "  D: 72", "  40:4:", "dynamics:", "pins:", "  north.voice: {" })
            text = text.Replace("# " + commented, commented, StringComparison.Ordinal);
        var shown = text.Split('\n')
            .Where(line => line.StartsWith("#   north.voice:", StringComparison.Ordinal)
            || line.StartsWith("#     ", StringComparison.Ordinal)).Select(line => line[2..]);
        text = text.Replace("levels:\n", "levels:\n" + string.Join('\n', shown) + "\n", StringComparison.Ordinal);
        var plan = Plans.Read(text);
        Assert.Equal(2, plan.Tempo.Count);
        Assert.Equal(["1", "5", "9", "C", "D+4:3"], Assert.Single(plan.Levels).Marks.Select(mark => mark.From.ToString()));
        Assert.Equal(["17", "20"], Assert.Single(plan.Pins).Pins.Select(pin => pin.From.ToString()));
        Assert.Equal(DynamicsTable.Ours.Names, plan.Dynamics.Names);
    }
}
