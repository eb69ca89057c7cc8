namespace Mixscore.Tests.Verbs;

/// <summary>The form of a piece at a glance, and its tempo from another file.</summary>
public class ReadTests
{
    //  |: 1  100 | 2 rit. :| 3 ⏜ |      two staves, a group, a mark on the lower staff
    private const string Score = """
        <score-partwise><part-list><part-group type="start" number="1"><group-name>North</group-name></part-group><score-part id="P1"><part-name>Piano</part-name></score-part></part-list><part id="P1">
        <measure number="1"><attributes><divisions>1</divisions><time><beats>4</beats><beat-type>4</beat-type></time><staves>2</staves></attributes><sound tempo="100"/><direction><direction-type><dynamics><p/></dynamics></direction-type><staff>2</staff></direction><note><rest/><duration>4</duration></note></measure>
        <measure number="2"><direction><direction-type><words>rit.</words></direction-type></direction><note><rest/><duration>4</duration></note><barline location="right"><repeat direction="backward"/></barline></measure>
        <measure number="3"><note><rest/><duration>4</duration><notations><fermata/></notations></note></measure>
        </part></score-partwise>
        """;

    // 96 ticks a quarter, 60 quarters a minute, 20 quarters long. Standard MIDI Files 1.0.
    private const string Click = "4D546864000000060000000100604D54726B0000000C00FF51030F42408F00FF2F00";

    [Fact]
    public async Task The_form_is_shown_as_runs_with_what_is_left_open()
    {
        using var folder = new SmallProject();
        await File.WriteAllTextAsync(folder.PathOf("form.musicxml"), Score, TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("read", folder.PathOf("form.musicxml"));
        Assert.Equal(0, ended.Code);
        Assert.Matches("Played +1–2, 1–2 \\(2nd\\), 3 ", ended.Output);
        Assert.Matches("Meters +4/4 from 1 ", ended.Output);
        Assert.Matches("Tempo +100 from 1 ", ended.Output);
        Assert.Matches("P1 +Piano +North +1 \\(0 \\+ 1\\) ", ended.Output);
        Assert.Contains("2: 100 > 80 by 1@2", ended.Output);
        Assert.Contains("3: hold 1.2 s", ended.Output);
        Assert.Contains("[MX082]", ended.Error);
    }

    [Fact]
    public async Task Without_repeats_every_bar_is_played_once()
    {
        using var folder = new SmallProject();
        await File.WriteAllTextAsync(folder.PathOf("form.musicxml"), Score, TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("read", folder.PathOf("form.musicxml"), "--no-repeats");
        Assert.Matches("Played +1–3 ", ended.Output);
    }

    [Fact]
    public async Task The_tempo_may_come_from_the_players_click()
    {
        using var folder = new SmallProject();
        await File.WriteAllTextAsync(folder.PathOf("form.musicxml"), Score, TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(folder.PathOf("click.mid"), Convert.FromHexString(Click), TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("read", folder.PathOf("form.musicxml"), "--tempo", folder.PathOf("click.mid"));
        Assert.Equal(0, ended.Code);
        Assert.Contains("(20.000 s by the click)", ended.Output);
        Assert.Equal(3, (await SmallProject.Run("read", folder.PathOf("form.musicxml"), "--tempo", folder.PathOf("none.mid"))).Code);
        Assert.Equal(2, (await SmallProject.Run("read", folder.PathOf("form.musicxml"), "--tempo", folder.PathOf("click.mid"), "--begin", "99")).Code);
        Assert.Equal(2, (await SmallProject.Run("read", folder.PathOf("form.musicxml"), "--begin", "3")).Code);
    }

    // The plan says it, the prompt says it again, and what is left open is shown for a plan as for a score.
    [Fact]
    public async Task A_plan_is_read_as_it_is_played()
    {
        using var folder = new SmallProject();
        await File.WriteAllTextAsync(folder.PathOf("small.musicxml"), Score.Replace("</part>\n</score-partwise>", "</part></score-partwise>", StringComparison.Ordinal), TestContext.Current.CancellationToken);
        await File.WriteAllBytesAsync(folder.PathOf("click.mid"), Convert.FromHexString(Click), TestContext.Current.CancellationToken);
        folder.WritePlan("");
        var text = (await File.ReadAllTextAsync(folder.Plan, TestContext.Current.CancellationToken)).Replace(", part: P2", "", StringComparison.Ordinal);
        await File.WriteAllTextAsync(folder.Plan, text, TestContext.Current.CancellationToken);

        var plain = await SmallProject.Run("read", folder.Plan);
        Assert.Equal(0, plain.Code);
        Assert.Matches("Played +1–2, 1–2 \\(2nd\\), 3 ", plain.Output);
        Assert.Contains("3: hold 1.2 s", plain.Output);
        Assert.Matches("Played +1–3 ", (await SmallProject.Run("read", folder.Plan, "--no-repeats")).Output);
        Assert.Contains("(20.000 s by the click)", (await SmallProject.Run("read", folder.Plan, "--tempo", folder.PathOf("click.mid"))).Output);

        await File.WriteAllTextAsync(folder.Plan, text + "repeats: no\ntempo-from: click.mid\n", TestContext.Current.CancellationToken);
        var said = await SmallProject.Run("read", folder.Plan);
        Assert.Matches("Played +1–3 ", said.Output);
        Assert.Contains("(12.000 s by the click)", said.Output);
        await File.WriteAllTextAsync(folder.Plan, text + "tempo-from: none.mid\n", TestContext.Current.CancellationToken);
        Assert.Equal(3, (await SmallProject.Run("read", folder.Plan)).Code);
    }
}
