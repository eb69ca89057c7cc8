using System.Text.Json;
using System.Text.Json.Nodes;
using Json.Schema;
using YamlDotNet.Core;
using YamlDotNet.RepresentationModel;

namespace Mixscore.Desk.Tests.Map;

public class DeskSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(DeskSchema.Text);

    [Fact]
    public void The_maps_of_the_design_are_valid() => Assert.All(Documents(Maps.Both), document => Assert.True(IsValid(document)));

    // What the reader refuses by shape alone, the schema refuses too, so that an editor says it first.
    [Theory]
    [InlineData("title: A desk that speaks OSC\n", "")]
    [InlineData("protocol: osc", "protocol: ocs")]
    [InlineData("to: udp://127.0.0.1:9000", "to: rtp-midi://127.0.0.1:9000")]
    [InlineData("\"/strip/{strip}/fader\"", "\"/strip/1/fader\"")]
    [InlineData("type: f", "type: q")]
    [InlineData(", off: 0.0", "")]
    [InlineData("[-30, 0.25]", "[-30]")]
    [InlineData("mute:  {", "mutes: {")]
    [InlineData("on: 1, off: 0 }", "off: 0 }")]
    public void A_mistake_of_shape_in_an_osc_map_is_not_valid(string right, string wrong) => AssertInvalid(Maps.Osc, right, wrong);

    [Theory]
    [InlineData("control: \"{strip - 1}\", ", "")]
    [InlineData("control: \"{strip - 1}\", ", "control: \"{strip - 1}\", pitch-bend: true, ")]
    [InlineData("bits: 14", "bits: 12")]
    [InlineData("off: 0", "address: /a, off: 0")]
    [InlineData("to: rtp-midi://127.0.0.1:5004", "to: udp://127.0.0.1:5004")]
    public void A_mistake_of_shape_in_a_midi_map_is_not_valid(string right, string wrong) => AssertInvalid(Maps.Midi, right, wrong);

    private static void AssertInvalid(string map, string right, string wrong)
    {
        Assert.Contains(right, map, StringComparison.Ordinal);
        Assert.False(IsValid(Documents(map.Replace(right, wrong, StringComparison.Ordinal)).Single()));
    }

    internal static bool IsValid(JsonNode document) => Schema.Evaluate(JsonSerializer.SerializeToElement(document)).IsValid;

    internal static IEnumerable<JsonNode> Documents(string yaml)
    {
        var stream = new YamlStream();
        stream.Load(new StringReader(yaml));
        return [.. stream.Documents.Select(document => Json(document.RootNode))];
    }

    private static JsonNode Json(YamlNode node) => node switch
    {
        YamlMappingNode map => new JsonObject(map.Children.Select(pair => KeyValuePair.Create(((YamlScalarNode)pair.Key).Value!, (JsonNode?)Json(pair.Value)))),
        YamlSequenceNode list => new JsonArray([.. list.Children.Select(Json)]),
        YamlScalarNode { Style: ScalarStyle.Plain, Value: "true" } => JsonValue.Create(true),
        YamlScalarNode { Style: ScalarStyle.Plain } scalar when double.TryParse(scalar.Value, out var number) => JsonValue.Create(number),
        YamlScalarNode scalar => JsonValue.Create(scalar.Value!),
        _ => throw new InvalidOperationException("no such node in a map"),
    };
}
