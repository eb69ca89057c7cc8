using System.Globalization;
using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Protocols.Tests.Osc;

public sealed class OscTextTests
{
    [Fact]
    public void A_message_reads_as_address_types_and_arguments()
    {
        Assert.Equal("/foo ,iisff 1000 -1 \"hello\" 1.234 5.678", OscText.Format(OscGen.Foo));
        Assert.Equal("/foo\t,iisff\t1000\t-1\t\"hello\"\t1.234\t5.678", OscText.Format(OscGen.Foo, '\t'));
        Assert.Equal("/a ,", OscText.Format(new OscMessage("/a")));
    }

    [Fact]
    public void Every_type_has_a_readable_form() => Assert.Equal(
        "/t ,bhtdSccrmTFNI[f[i]] <01ff> -2 00000001.80000000 0.1 \"s\" 'a' 7 #11223344 00:90:3c:40 true false nil impulse [0.1 [1]]",
        new OscMessage("/t", OscArgument.Of([1, 255]), OscArgument.Of(-2L), OscArgument.Of(OscTimeTag.FromSeconds(1.5)),
            OscArgument.Of(0.1), OscArgument.Symbol("s"), OscArgument.Character('a'), OscArgument.Character(7),
            OscArgument.Of(new OscColour(0x11, 0x22, 0x33, 0x44)), OscArgument.Of(new OscMidi(0, 0x90, 0x3c, 0x40)),
            OscArgument.Of(true), OscArgument.Of(false), OscArgument.Nil, OscArgument.Impulse,
            OscArgument.Array(0.1f, OscArgument.Array(1))).ToString());

    [Fact]
    public void Text_is_quoted_on_one_line() => Assert.Equal(
        """/a ,s "say \"la\"\\\n\t\r\u0007é" """.TrimEnd(), OscText.Format(new OscMessage("/a", "say \"la\"\\\n\t\r\u0007é")));

    [Fact]
    public void A_float_reads_back_to_its_bits() => Gen.Int.Sample(bits =>
    {
        var value = BitConverter.Int32BitsToSingle(bits);
        var text = OscText.Format(OscArgument.Of(value));
        return float.Parse(text, CultureInfo.InvariantCulture).Equals(value);
    });

    [Fact]
    public void Numbers_are_told_from_other_arguments()
    {
        Assert.Equal([1, 0.5, 2, 0.25, null, null], new OscArgument[]
        {
            1, 0.5f, OscArgument.Of(2L), OscArgument.Of(0.25), "3", OscArgument.Nil,
        }.Select(argument => argument.AsNumber()));
        Assert.Throws<InvalidOperationException>(() => OscArgument.Of(1).AsFloat32());
        Assert.Equal(OscArgument.Nil, default);
    }

    [Fact]
    public void A_bundle_and_a_problem_read_as_what_they_are()
    {
        Assert.Equal("#bundle immediately [/a ,i 1; /b ,]",
            new OscBundle(OscTimeTag.Immediate, new OscMessage("/a", 1), new OscMessage("/b")).ToString());
        Assert.Equal("ElementSize at byte 16", new OscProblem(OscFault.ElementSize, 16).ToString());
        Assert.Equal("no fault", default(OscProblem).ToString());
    }
}
