using Json.Schema;
using Mixscore.Planning.Tests.Plan;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Hall;

public sealed class HallSchemaTests
{
    private static readonly JsonSchema Schema = JsonSchema.FromText(HallSchema.Text);

    // Whatever the reader takes, an editor must not underline; what the reader refuses, it should.
    [Theory]
    [InlineData("title: quay\noffsets:\n  north.voice: +2 dB\n", true)]
    [InlineData("offsets: { north.voice: -1.5, south.engine: \u22123 LU }\n", true)]
    [InlineData("title: quay\n", true)]
    [InlineData("offset: { north.voice: 2 }\n", false)]
    [InlineData("offsets: { north.voice: loud }\n", false)]
    [InlineData("offsets: { north.voice: 60 }\n", false)]
    [InlineData("offsets: { north.voice: { by: 2 } }\n", false)]
    public void Schema_and_reader_take_the_same(string yaml, bool isRight)
    {
        Assert.Equal(isRight, PlanSchemaTests.IsValid(yaml, Schema));
        if (isRight) HallFile.Read(yaml, "quay.yaml", []);
        else Assert.Throws<InputException>(() => HallFile.Read(yaml, "quay.yaml", []));
    }
}
