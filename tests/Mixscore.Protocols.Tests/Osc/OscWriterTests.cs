using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscWriterTests
{
    [Fact]
    public void A_bundle_written_piece_by_piece_is_the_bundle_encoded()
    {
        Span<byte> buffer = stackalloc byte[256];
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        writer.BeginMessage("/oscillator/4/frequency"u8, "f"u8);
        writer.Float32(440);
        Assert.True(writer.EndMessage());
        writer.BeginBundle(new OscTimeTag(7));
        writer.BeginMessage("/foo", "[iT]Ns"u8);
        writer.Int32(-1);
        writer.Text("hello"u8);
        Assert.True(writer.EndMessage());
        Assert.True(writer.EndBundle());
        Assert.True(writer.EndBundle());
        var expected = new OscBundle(OscTimeTag.Immediate, OscGen.Oscillator, new OscBundle(new OscTimeTag(7),
            new OscMessage("/foo", OscArgument.Array(-1, OscArgument.Of(true)), OscArgument.Nil, "hello")));
        Assert.Equal(OscCodec.Encode(expected), writer.Written.ToArray());
    }

    // Whatever the buffer's size, what is written is the bundle of those messages that were said to fit.
    [Fact]
    public void What_does_not_fit_leaves_nothing_behind() =>
        Gen.Select(OscGen.Message.Array[1, 6], Gen.Int[16, 300]).Sample((messages, size) =>
        {
            var writer = new OscWriter(new byte[size]);
            writer.BeginBundle(new OscTimeTag(3));
            var fitted = new List<OscPacket>();
            foreach (var message in messages)
            {
                writer.BeginMessage(message.Address, OscGen.Ascii(OscText.Types(message)).AsSpan(1));
                Arguments(ref writer, [.. message.Arguments]);
                if (writer.EndMessage()) fitted.Add(message);
            }
            Assert.True(writer.EndBundle());
            Assert.Equal(OscCodec.Encode(new OscBundle(new OscTimeTag(3), [.. fitted])), writer.Written.ToArray());
            return writer.Length <= size;
        });

    [Fact]
    public void A_bundle_whose_header_does_not_fit_is_left_out_with_all_in_it()
    {
        var writer = new OscWriter(new byte[30]);
        writer.BeginBundle(new OscTimeTag(3));
        writer.BeginBundle(new OscTimeTag(4));
        writer.BeginMessage("/a"u8, ""u8);
        Assert.False(writer.EndMessage());
        Assert.False(writer.EndBundle());
        Assert.True(writer.EndBundle());
        Assert.Equal(OscCodec.Encode(new OscBundle(new OscTimeTag(3))), writer.Written.ToArray());
    }

    [Fact]
    public void Arguments_that_the_tags_do_not_announce_are_refused()
    {
        Assert.Throws<InvalidOperationException>(() =>
        {
            var writer = new OscWriter(new byte[64]);
            writer.BeginMessage("/a"u8, "f"u8);
            writer.Int32(1);
        });
        Assert.Throws<InvalidOperationException>(() =>
        {
            var writer = new OscWriter(new byte[64]);
            writer.BeginMessage("/a"u8, "f"u8);
            writer.EndMessage();
        });
        Assert.Throws<InvalidOperationException>(() =>
        {
            var writer = new OscWriter(new byte[64]);
            writer.BeginMessage("/a"u8, ""u8);
            writer.EndMessage();
            writer.BeginMessage("/b"u8, ""u8);
        });
        Assert.Throws<ArgumentException>(() => new OscWriter(new byte[64]).BeginMessage("/a"u8, "x"u8));
        Assert.Throws<ArgumentException>(() => new OscWriter(new byte[64]).BeginMessage("/a"u8, "[f"u8));
        Assert.Throws<ArgumentException>(() => new OscWriter(new byte[64]).BeginMessage("a"u8, ""u8));
    }

    // The live thread takes no memory: 1000 bundles of 32 messages written and read.
    [Fact]
    public void Writing_and_reading_take_no_memory()
    {
        var buffer = new byte[4096];
        var sum = Exchange(buffer);
        var before = GC.GetAllocatedBytesForCurrentThread();
        for (var i = 0; i < 1000; i++) sum += Exchange(buffer);
        Assert.Equal(0, GC.GetAllocatedBytesForCurrentThread() - before);
        Assert.Equal(1001 * 32 * 0.25, sum);
    }

    private static double Exchange(byte[] buffer)
    {
        var writer = new OscWriter(buffer);
        writer.BeginBundle(OscTimeTag.Immediate);
        for (var i = 0; i < 32; i++)
        {
            writer.BeginMessage("/strip/1/fader", "sTf"u8);
            writer.Text("north.horn");
            writer.Float32(0.25f);
            writer.EndMessage();
        }
        writer.EndBundle();
        var sum = 0.0;
        var reader = new OscReader(writer.Written);
        while (reader.NextMessage())
        {
            if (!OscPattern.Matches("/strip/*/fader"u8, reader.Address)) continue;
            while (reader.NextArgument())
                if (reader.Tag == OscTag.Float32) sum += reader.Float32;
        }
        return sum;
    }

    private static void Arguments(ref OscWriter writer, OscArgument[] arguments)
    {
        foreach (var argument in arguments)
        {
            switch (argument.Tag)
            {
                case OscTag.Int32: writer.Int32(argument.AsInt32()); break;
                case OscTag.Float32: writer.Float32(argument.AsFloat32()); break;
                case OscTag.String or OscTag.Symbol: writer.Text(argument.AsText()); break;
                case OscTag.Blob: writer.Blob(argument.AsBlob()); break;
                case OscTag.Int64: writer.Int64(argument.AsInt64()); break;
                case OscTag.TimeTag: writer.Moment(argument.AsTimeTag()); break;
                case OscTag.Float64: writer.Float64(argument.AsFloat64()); break;
                case OscTag.Character: writer.Character(argument.AsCharacter()); break;
                case OscTag.Colour: writer.Colour(argument.AsColour()); break;
                case OscTag.Midi: writer.Midi(argument.AsMidi()); break;
                case OscTag.Array: Arguments(ref writer, argument.AsArray().ToArray()); break;
            }
        }
    }
}
