using System.Globalization;
using System.Text.Json.Nodes;
using Json.Schema;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Plan;

public sealed class PlanSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(PlanSchema.Text);

    [Fact]
    public void Schema_takes_the_example() => Assert.True(IsValid(Plans.Ferry));

    [Fact]
    public void Schema_takes_pins_and_windows() =>
        Assert.True(IsValid(Plans.Head.Replace("strip: 1", "strip: 1, window: 8 s", StringComparison.Ordinal) + "pins:\n  north.voice: { 17: -4, 20..24: -6 > -2, C+4:1: +1.5 dB }\n"));

    [Fact]
    public void Schema_takes_a_plan_with_nothing_but_what_must_be_there() => Assert.True(IsValid(Plans.Head));

    [Theory]
    [InlineData("repeats: no\n")]
    [InlineData("repeats: true\n")]
    [InlineData("grid: halves\n")]
    [InlineData("tempo-from: click.mid\n")]
    [InlineData("tempo-from: { file: click.mid }\n")]
    [InlineData("tempo-from: { file: click.mid, begin: 3 }\n")]
    [InlineData("tempo-from: { file: click.mid, begin: 2:4+1/2 }\n")]
    public void Schema_takes_how_the_piece_is_played(string added)
    {
        Assert.True(IsValid(Plans.Head + added));
        Plans.Read(Plans.Head + added);
    }

    [Fact]
    public void Schema_takes_a_staff_of_a_part() => Assert.True(IsValid(Plans.Head.Replace("part: P1", "part: P1, staff: 2", StringComparison.Ordinal)));

    // Whatever the reader takes, an editor must not underline.
    [Theory]
    [InlineData("1: off")]
    [InlineData("1: -18 LU")]
    [InlineData("1: \u221218")]
    [InlineData("1: -3 clear 4 LU")]
    [InlineData("1: -3 within 1 LU")]
    [InlineData("9..13: pp > f within 1.5 clear 4")]
    [InlineData("1: under north.horn by 3 within 1 LU")]
    [InlineData("9..13: pp > f clear 4")]
    [InlineData("1: over north.horn by 3 clear 2.5 LU")]
    [InlineData("9..13: pp > f")]
    [InlineData("9:2..13:3+1/2: off > -6")]
    [InlineData("C+4:1: over north.horn, north.engine by 3 LU")]
    [InlineData("II/17@2:3: mf")]
    [InlineData("12a: -6.5")]
    [InlineData("end: ffff > off")]
    public void Schema_takes_what_the_reader_takes(string mark) => Assert.True(IsValid(Plans.WithMarks(mark)));

    [Theory]
    [InlineData("titel: x\n")]
    [InlineData("levels: -18\n")]
    [InlineData("levels:\n  north.voice:\n    1: -2O LU\n")]
    [InlineData("levels:\n  north.voice:\n    1: under north.horn\n")]
    [InlineData("levels:\n  north.voice:\n    1:0: off\n")]
    [InlineData("levels:\n  voice:\n    1: off\n")]
    [InlineData("reference: loud\n")]
    [InlineData("tempo:\n  C: fast\n")]
    [InlineData("repeats: maybe\n")]
    [InlineData("grid: thirds\n")]
    [InlineData("grid: Bars\n")]
    [InlineData("tempo-from: { begin: 3 }\n")]
    [InlineData("tempo-from: { file: a.mid, begin: 3:0 }\n")]
    [InlineData("limits: { faders: 3 }\n")]
    [InlineData("limits: { fader: -60 }\n")]
    [InlineData("dynamics: { mx: -8 }\n")]
    public void Schema_refuses_what_the_reader_refuses(string added)
    {
        Assert.False(IsValid(Plans.Head + added));
        Assert.Throws<InputException>(() => Plans.Read(Plans.Head + added));
    }

    [Theory]
    [InlineData("role: voice,", "role: sitar,")]
    [InlineData("role: voice, ", "")]
    [InlineData("strip: 1", "strip: 0")]
    [InlineData("strip: 1", "strip: 1, witin: 3")]
    [InlineData("strip: 1", "strip: 1, grid: sixths")]
    [InlineData("delay: 38 ms", "delay: soon")]
    [InlineData("delay: 38 ms", "on-drop: scream")]
    [InlineData("title: T\n", "")]
    public void Schema_refuses_mistakes_in_the_head(string was, string becomes) =>
        Assert.False(IsValid(Plans.Head.Replace(was, becomes, StringComparison.Ordinal)));

    internal static bool IsValid(string yaml) => IsValid(yaml, Schema);

    internal static bool IsValid(string yaml, JsonSchema schema)
    {
        var faults = new FaultList();
        var json = ToJson(YamlTree.Read(yaml, "t", faults)!);
        faults.ThrowIfAny();
        return schema.Evaluate(System.Text.Json.JsonSerializer.SerializeToElement(json)).IsValid;
    }

    /// <summary>As an editor sees a plan: YAML 1.2, core schema. Numbers are numbers, an empty value is null.</summary>
    private static JsonNode? ToJson(YamlNode node) => node switch
    {
        YamlMap map => new JsonObject(map.Pairs.Select(pair => KeyValuePair.Create(pair.Key.Value, ToJson(pair.Value)))),
        YamlList list => new JsonArray([.. list.Items.Select(ToJson)]),
        YamlText { IsPlain: true, Value: "" } => null,
        YamlText { IsPlain: true, Value: "true" or "false" } text => JsonValue.Create(text.Value == "true"),
        YamlText { IsPlain: true } text when long.TryParse(text.Value, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture,
            out var whole) => JsonValue.Create(whole),
        YamlText { IsPlain: true } text when double.TryParse(text.Value, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint,
            CultureInfo.InvariantCulture, out var number) => JsonValue.Create(number),
        YamlText text => JsonValue.Create(text.Value),
        _ => null,
    };
}
