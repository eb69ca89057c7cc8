namespace Mixscore.Tests.Verbs;

/// <summary>A clear message, the right exit code, no stack trace, nothing half-written.</summary>
public class BadInputTests
{
    [Theory]
    [InlineData("  near.voice:\n    1: -2O LU\n", "small.mix.yaml(12,8)", "is not a level")]
    [InlineData("  near.voice:\n    99: -6\n", "small.mix.yaml(12,5)", "99")]
    [InlineData("  near.voise:\n    1: -6\n", "small.mix.yaml(11,3)", "near.voice")]
    [InlineData("  near.voice:\n    1..5: -6\n    3: -8\n", "small.mix.yaml(13,5)", "")]
    [InlineData("  near.voice:\n    1: under near.engine by 3\n  near.engine:\n    1: under near.voice by 3\n", "small.mix.yaml(", "near.voice leans on near.engine")]
    public async Task Mistakes_in_a_plan_are_told_with_their_place(string levels, string place, string words)
    {
        using var project = new SmallProject("levels:\n" + levels);
        var ended = await SmallProject.Run("fit", project.Plan);
        AssertFails(2, ended, project);
        Assert.Contains(place, ended.Error);
        Assert.Contains(words, ended.Error);
    }

    [Fact]
    public async Task A_wrong_key_is_told_with_the_right_one()
    {
        using var project = new SmallProject();
        await File.WriteAllTextAsync(project.Plan, (await File.ReadAllTextAsync(project.Plan, TestContext.Current.CancellationToken)).Replace("within: 2 LU", "wihtin: 2 LU"), TestContext.Current.CancellationToken);
        var ended = await SmallProject.Run("read", project.Plan);
        AssertFails(2, ended, project);
        Assert.Contains("within", ended.Error);
    }

    [Fact]
    public async Task A_plan_that_is_not_there_is_not_available()
    {
        var ended = await SmallProject.Run("fit", Path.Combine(Path.GetTempPath(), "no-such.mix.yaml"));
        Assert.Equal(3, ended.Code);
        Assert.Contains("no-such.mix.yaml", ended.Error);
    }

    [Fact]
    public async Task A_missing_stem_is_not_available_and_named_with_its_line()
    {
        using var project = new SmallProject();
        File.Delete(project.PathOf("stems", "voice.wav"));
        var ended = await SmallProject.Run("measure", project.Plan);
        AssertFails(3, ended, project);
        Assert.Contains("near.voice", ended.Error);
        Assert.Contains("small.mix.yaml(7,", ended.Error);
    }

    [Fact]
    public async Task Stems_of_unequal_rates_are_refused()
    {
        using var project = new SmallProject();
        project.WriteTone("stems/voice.wav", -33, 26, rate: 44_100);
        var ended = await SmallProject.Run("check", project.Plan);
        AssertFails(2, ended, project);
        Assert.Contains("44100", ended.Error);
        Assert.Contains("48000", ended.Error);
    }

    [Fact]
    public async Task A_truncated_stem_is_refused()
    {
        using var project = new SmallProject();
        using (var file = File.OpenWrite(project.PathOf("stems", "voice.wav"))) file.SetLength(file.Length / 2 + 1);
        var ended = await SmallProject.Run("measure", project.Plan);
        AssertFails(2, ended, project);
        Assert.Contains("voice.wav", ended.Error);
    }

    [Fact]
    public async Task A_short_stem_is_a_warning_that_names_the_bar()
    {
        using var project = new SmallProject();
        project.WriteTone("stems/voice.wav", -33, 17);
        var ended = await SmallProject.Run("check", project.Plan);
        Assert.Equal(0, ended.Code);
        Assert.Contains("bar 9", ended.Error);
        Assert.Contains("unmeasured", ended.Error);
    }

    [Theory]
    [InlineData("small.musicxml", "<score-partwise><part-list>")]
    [InlineData("small.musicxml", "")]
    [InlineData("small.musicxml", "no score at all")]
    public async Task An_unreadable_score_is_refused(string name, string content)
    {
        using var project = new SmallProject();
        await File.WriteAllTextAsync(project.PathOf(name), content, TestContext.Current.CancellationToken);
        AssertFails(2, await SmallProject.Run("read", project.PathOf(name)), project);
        AssertFails(2, await SmallProject.Run("fit", project.Plan), project);
    }

    [Fact]
    public async Task A_wave_file_that_is_none_is_refused_by_the_meter()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("loudness", project.Plan);
        AssertFails(2, ended, project);
        Assert.Equal(3, (await SmallProject.Run("loudness", project.PathOf("no.wav"))).Code);
    }

    [Fact]
    public async Task Two_desks_of_one_protocol_are_refused()
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run("write", project.Plan, "--desk", project.PathOf("osc.desk.yaml"), "--desk", project.PathOf("osc.desk.yaml"));
        AssertFails(2, ended, project);
    }

    [Fact]
    public async Task A_kind_that_no_desk_speaks_is_refused()
    {
        using var project = new SmallProject();
        AssertFails(2, await SmallProject.Run("write", project.Plan, "--desk", project.PathOf("osc.desk.yaml"), "--only", "midi"), project);
        AssertFails(2, await SmallProject.Run("write", project.Plan, "--desk", project.PathOf("osc.desk.yaml"), "--only", "tape"), project);
    }

    private static void AssertFails(int code, Ended ended, SmallProject project)
    {
        Assert.True(ended.Code == code, $"ended with {ended.Code}: {ended.Error}");
        Assert.NotEqual("", ended.Error);
        Assert.DoesNotContain("   at ", ended.Error + ended.Output);
        Assert.DoesNotContain("Exception", ended.Error);
        Assert.DoesNotContain(Directory.GetFiles(project.Folder, "*", SearchOption.AllDirectories), file => file.EndsWith(".part", StringComparison.Ordinal));
    }
}
