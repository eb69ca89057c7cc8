using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

/// <summary>Every mistake has its code and its place. What is added to the head of a plan begins on line 10.</summary>
public sealed class PlanReaderFaultsTests
{
    [Theory]
    [InlineData("titel: x\n", "MX105 10,1")]                                           // a wrong key
    [InlineData("title: again\n", "MX106 10,1")]                                       // a key twice
    [InlineData("levels: -18\n", "MX108 10,9")]
    [InlineData("levels:\n  north.voice: -18\n", "MX108 11,16")]
    [InlineData("levels:\n  north.voice: [1, 2]\n", "MX108 11,16")]
    [InlineData("levels:\n  north.vioce:\n    1: -18\n", "MX118 11,3")]                 // an unknown source
    [InlineData("levels:\n  north.voice:\n    1: under north.hron by 8\n", "MX118 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: under north.voice by 8\n", "MX119 12,8")] // a circle
    [InlineData("levels:\n  north.voice:\n    1: -2O LU\n", "MX104 12,8")]
    [InlineData("levels:\n  north.voice:\n    1:\n", "MX104 12,5")]
    [InlineData("levels:\n  north.voice:\n    1: -18 > -6\n", "MX120 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: 500\n", "MX111 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: { a: b }\n", "MX108 12,8")]
    [InlineData("levels:\n  north.voice:\n    1:0: off\n", "MX112 12,5")]
    [InlineData("levels:\n  north.voice:\n    9-13: off\n", "MX112 12,5")]
    [InlineData("levels:\n  north.voice:\n    9..: off\n", "MX112 12,5")]
    [InlineData("levels:\n  north.voice:\n    ? [1, 2]\n    : off\n", "MX108 12,7")]
    [InlineData("levels:\n  north.voice:\n    1: -3 clear much\n", "MX110 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: off clear 4\n", "MX104 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: -3 within much\n", "MX110 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: -3 within 0 LU\n", "MX111 12,8")]
    [InlineData("levels:\n  north.voice:\n    1: off within 2\n", "MX104 12,8")]
    [InlineData("lead: { 1: north.vioce }\n", "MX118 10,12")]
    [InlineData("lead: { 1..3: north.voice }\n", "MX112 10,9")]
    [InlineData("limits: { loudness: loud }\n", "MX110 10,21")]
    [InlineData("pins:\n  north.voice:\n    17: off\n", "MX110 12,9")]
    [InlineData("pins:\n  north.voice: { 17: -6 > -2 }\n", "MX120 11,22")]
    [InlineData("pins:\n  north.vioce: { 17: -6 }\n", "MX118 11,3")]
    [InlineData("pins:\n  north.voice: { 17: soft }\n", "MX110 11,22")]
    [InlineData("pins: -4\n", "MX108 10,7")]
    [InlineData("reference: loud\n", "MX110 10,12")]
    [InlineData("reference: 3 LUFS\n", "MX111 10,12")]
    [InlineData("reference:\n", "MX109 10,1")]
    [InlineData("reference: [1]\n", "MX108 10,12")]
    [InlineData("tempo:\n  C: fast\n", "MX113 11,6")]
    [InlineData("tempo:\n  C: 72 > 60\n", "MX113 11,6")]
    [InlineData("tempo:\n  C: 72 by end\n", "MX113 11,6")]
    [InlineData("tempo:\n  C..D: 72 > 60 by end\n", "MX113 11,9")]
    [InlineData("tempo:\n  C..D: hold 3 s\n", "MX113 11,9")]
    [InlineData("tempo:\n  C: hold 3\n", "MX110 11,6")]
    [InlineData("tempo:\n  C: hold\n", "MX110 11,6")]
    [InlineData("tempo:\n  C: 0\n", "MX111 11,6")]
    [InlineData("tempo:\n  C: 72 > 60 by 3:0\n", "MX112 11,6")]
    [InlineData("repeats: maybe\n", "MX114 10,10")]
    [InlineData("grid: bar\n", "MX114 10,7")]
    [InlineData("grid:\n", "MX109 10,1")]
    [InlineData("repeats:\n", "MX109 10,1")]
    [InlineData("tempo-from: [a.mid]\n", "MX108 10,13")]
    [InlineData("tempo-from: { begin: 3 }\n", "MX107 10,1")]
    [InlineData("tempo-from: { file: a.mid, begin: 3:0 }\n", "MX112 10,35")]
    [InlineData("tempo-from: { file: a.mid, start: 3 }\n", "MX105 10,28")]
    [InlineData("tempo-from: { file: , begin: 3 }\n", "MX109 10,15")]
    [InlineData("limits: { faders: 3 }\n", "MX105 10,11")]
    [InlineData("limits: { fader: -60 }\n", "MX110 10,18")]
    [InlineData("limits: { fader: 10 .. -60 dB }\n", "MX111 10,18")]
    [InlineData("limits: { speed: 0 dB/s }\n", "MX111 10,18")]
    [InlineData("limits: { speed: 24 dB }\n", "MX110 10,18")]
    [InlineData("dynamics: { mx: -8 }\n", "MX105 10,13")]
    [InlineData("dynamics: { mf: loud }\n", "MX110 10,17")]
    [InlineData("a: *b\n", "MX103 10,4", "MX105 10,1")]
    [InlineData("reference: !!str -23\n", "MX103 10,12")]
    [InlineData("<<: {}\n", "MX103 10,1")]
    [InlineData("---\ntitle: two\n", "MX103 10,1")]
    [InlineData("   x: 1\n", "MX101 10,4")]
    [InlineData("limits: { fader: [\n", "MX101 11,1")]
    [InlineData("\tlimits: x\n", "MX101 10,1")]
    public void Mistakes_are_named_with_code_line_and_column(string added, params string[] expected) =>
        Assert.Equal(expected.Order(StringComparer.Ordinal), Plans.Faults(Plans.Head + added).Order(StringComparer.Ordinal));

    [Theory]
    [InlineData("role: voice,", "role: sitar,", "MX114 6,24")]
    [InlineData("role: voice, ", "", "MX107 6,3")]
    [InlineData("stem: v.wav, ", "", "MX107 6,3")]
    [InlineData(", strip: 1", "", "MX107 6,3")]
    [InlineData("strip: 1", "strip: one", "MX110 6,51")]
    [InlineData("strip: 1", "strip: 0", "MX111 6,51")]
    [InlineData("strip: 2", "strip: 1", "MX117 7,55")]
    [InlineData("strip: 1", "strip: 1, witin: 3", "MX105 6,54")]
    [InlineData("strip: 1", "strip: 1, staff: 2", "MX107 6,61")]
    [InlineData("part: P1", "part: P1, staff: 0", "MX111 7,75")]
    [InlineData("part: P1", "part: P1, staff: lower", "MX110 7,75")]
    [InlineData("strip: 1", "strip: 1, within: 0 LU", "MX111 6,62")]
    [InlineData("north.voice:", "nroth.voice:", "MX116 6,3")]
    [InlineData("north.voice:", "voice:", "MX115 6,3")]
    [InlineData("  north: {", "  no.rth: {", "MX115 4,3", "MX116 6,3", "MX116 7,3", "MX116 8,3")]
    [InlineData("delay: 38 ms", "delay: soon", "MX110 4,27")]
    [InlineData("delay: 38 ms", "delay: -38 ms", "MX111 4,27")]
    [InlineData("delay: 38 ms", "on-drop: scream", "MX114 4,29")]
    [InlineData("delay: 38 ms", "on-drop: fade 3", "MX110 4,29")]
    [InlineData("title: T\n", "", "MX107 1,1")]
    [InlineData("score: s.musicxml", "score:", "MX109 2,1")]
    public void Mistakes_in_the_head_are_named(string was, string becomes, params string[] expected) =>
        Assert.Equal(expected, Plans.Faults(Plans.Head.Replace(was, becomes, StringComparison.Ordinal)));

    [Theory]
    [InlineData("")]
    [InlineData("# nothing but a comment\n")]
    public void An_empty_file_is_a_fault(string text) => Assert.Equal(["MX101 1,1"], Plans.Faults(text));

    [Theory]
    [InlineData("just words", "MX108 1,1")]
    [InlineData("- a\n- b", "MX108 1,1")]
    public void A_plan_is_a_mapping(string text, string expected) => Assert.Equal([expected], Plans.Faults(text));

    [Fact]
    public void Nesting_has_a_limit() => Assert.Equal("MX102", Plans.FaultsOf("a: " + new string('[', 100_000)).Single().Code);

    [Fact]
    public void Length_has_a_limit() => Assert.Equal("MX102", Plans.FaultsOf(new string('#', 4_000_001)).Single().Code);

    [Fact]
    public void All_faults_are_collected_in_the_order_of_their_places()
    {
        var text = Plans.WithMarks("1: loud", "2: -18 LUFS", "x y: off", "4: under north.hron by 8") + "reference: soft\n";
        Assert.Equal(["MX104 12,8", "MX104 13,8", "MX112 14,5", "MX118 15,8", "MX110 16,12"], Plans.Faults(text));
    }

    // Golden messages: the words are for a musician, and say what would be right.
    [Theory]
    [InlineData("levels:\n  north.voice:\n    32: -2O LU\n",
        "t.mix.yaml(12,9): north.voice, bar 32: \"-2O LU\" is not a level; write a number and LU, such as \"-20 LU\". [MX104]")]
    [InlineData("levels:\n  north.voice:\n    C: mff\n", "t.mix.yaml(12,8): north.voice, letter C: \"mff\" is not a level; perhaps you mean \"mf\". [MX104]")]
    [InlineData("levels:\n  north.voice:\n    9-13: off\n",
        "t.mix.yaml(12,5): north.voice: \"9-13\" is not a position; write a range with two dots, such as 9..13. [MX112]")]
    [InlineData("levels:\n  north.voice:\n    1: under north.horn by 8\n  north.horn:\n    1: over north.voice by 3\n",
        "t.mix.yaml(14,8): north.voice leans on north.horn, north.horn leans on north.voice; give one of them a level of its own. [MX119]")]
    [InlineData("title: again\n", "t.mix.yaml(10,1): \"title\" stands here and on line 1; keep one of the two. [MX106]")]
    public void Messages_say_what_was_found_and_what_would_be_right(string added, string expected) =>
        Assert.Equal(expected, Assert.Single(Plans.FaultsOf(Plans.Head + added)).ToString());

    [Theory]
    [InlineData("witin: 3", "perhaps you mean \"within\"")]
    [InlineData("Within: 3", "perhaps you mean \"within\"")]
    [InlineData("colour: red", "its keys are role, stem, strip, within, offset, window, grid, part, staff, start, channel")]
    public void A_wrong_key_gets_the_nearest_right_one(string key, string remedy) =>
        Assert.Equal(remedy, Assert.Single(Plans.FaultsOf(Plans.Head.Replace("strip: 1", "strip: 1, " + key, StringComparison.Ordinal)))
            .Remedy);

    [Theory]
    [InlineData("true_peak", "true-peak")]
    [InlineData("sped", "speed")]
    public void Limits_get_the_nearest_right_key(string key, string near) =>
        Assert.Equal($"perhaps you mean \"{near}\"", Assert.Single(Plans.FaultsOf(Plans.Head + $"limits: {{ {key}: 3 }}\n")).Remedy);

    [Fact]
    public void Circles_of_three_are_named_once()
    {
        var faults = Plans.FaultsOf(Plans.Head + """
            levels:
              north.voice:
                1: under north.horn by 8
              north.horn:
                1: under north.engine by 8
              north.engine:
                1: -18
                5: over north.voice by 1
            """);
        Assert.Equal("north.voice leans on north.horn, north.horn leans on north.engine, north.engine leans on north.voice",
            Assert.Single(faults).Found);
        Assert.Equal(new Place("t.mix.yaml", 17, 8), faults[0].Place);
    }
}
