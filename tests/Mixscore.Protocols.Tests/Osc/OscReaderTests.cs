using System.Text;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscReaderTests
{
    [Fact]
    public void A_packet_is_walked_in_the_order_of_its_bytes()
    {
        var bytes = OscCodec.Encode(new OscBundle(new OscTimeTag(3), new OscMessage("/a", 1, OscArgument.Array(2f)),
            new OscBundle(new OscTimeTag(4), new OscMessage("/b")), new OscMessage("/c")));
        var reader = new OscReader(bytes);
        var seen = new List<string>();
        while (reader.Read()) seen.Add($"{reader.Token} {reader.Depth} {reader.TimeTag.Value}");
        Assert.Equal(
        [
            "BundleStart 1 3", "Message 1 3", "Argument 1 3", "ArrayStart 1 3", "Argument 1 3", "ArrayEnd 1 3",
            "BundleStart 2 4", "Message 2 4", "BundleEnd 1 3", "Message 1 3", "BundleEnd 0 1",
        ], seen);
        Assert.True(reader.Problem.IsNone);
        Assert.False(reader.Read());
    }

    [Fact]
    public void Arguments_are_taken_by_type_and_left_where_they_do_not_fit()
    {
        var reader = new OscReader(OscCodec.Encode(new OscMessage("/mixscore/take", "north.horn", -6, OscArgument.Of(0.5))));
        Assert.True(reader.NextMessage());
        Assert.Equal("/mixscore/take", Encoding.ASCII.GetString(reader.Address));
        Assert.Equal("sid", Encoding.ASCII.GetString(reader.TagsLeft));
        Assert.False(reader.TryReadNumber(out _));
        Assert.True(reader.TryReadText(out var text));
        Assert.Equal("north.horn", Encoding.UTF8.GetString(text));
        Assert.False(reader.TryReadText(out _));
        Assert.True(reader.TryReadNumber(out var level));
        Assert.True(reader.TryReadNumber(out var half));
        Assert.Equal((-6, 0.5), (level, half));
        Assert.False(reader.TryReadNumber(out _));
    }

    [Fact]
    public void Arguments_not_read_are_passed_over()
    {
        var reader = new OscReader(OscCodec.Encode(new OscBundle(default, OscGen.Foo, OscGen.Oscillator)));
        Assert.True(reader.NextMessage());
        Assert.True(reader.NextMessage());
        Assert.True(reader.TryReadNumber(out var frequency));
        Assert.Equal(440, frequency);
        Assert.False(reader.NextMessage());
    }

    [Fact]
    public void An_argument_asked_for_as_another_type_is_a_bad_call() => Assert.Throws<InvalidOperationException>(() =>
    {
        var reader = new OscReader(OscCodec.Encode(OscGen.Oscillator));
        reader.Read();
        reader.Read();
        return reader.Int32;
    });

    [Fact]
    public void Messages_left_out_are_counted()
    {
        var odd = OscGen.Bytes("2362756e646c6500 0000000000000005 00000008 2f610000 2c780000 00000008 2f620000 2c790000");
        var reader = new OscReader(odd);
        Assert.False(reader.NextMessage());
        Assert.True(reader.Problem.IsNone);
        Assert.Equal(2, reader.LeftOut);
        Assert.Equal(new OscProblem(OscFault.UnknownTag, 25), reader.FirstLeftOut);
    }
}
