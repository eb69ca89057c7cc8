using CsCheck;
using Mixscore.Loudness;

namespace Mixscore.Planning.Tests.Levels;

public sealed class LevelTextTests
{
    [Theory]
    [InlineData("off", "off")]
    [InlineData("OFF", "off")]
    [InlineData("-18", "-18")]
    [InlineData("-18 LU", "-18")]
    [InlineData("\u221218.5LU", "-18.5")]
    [InlineData("+3", "3")]
    [InlineData("mf", "mf")]
    [InlineData("-18 > -6", "-18 > -6")]
    [InlineData("pp>f", "pp > f")]
    [InlineData("off > -6 LU", "off > -6")]
    [InlineData("-6 > off", "-6 > off")]
    [InlineData("under north.horn by 8", "under north.horn by 8")]
    [InlineData("over  north.horn ,east.bell  by 3 LU", "over north.horn, east.bell by 3")]
    [InlineData("Under north.horn by 0", "under north.horn by 0")]
    public void Levels_are_read(string text, string canonical)
    {
        Assert.Null(LevelText.Read(text, DynamicsTable.Ours, out var start, out var end));
        Assert.Equal(canonical, LevelText.Write(start, end));
    }

    [Theory]
    [InlineData("", "MX104")]
    [InlineData("loud", "MX104")]
    [InlineData("-2O", "MX104")]
    [InlineData("-18 dB", "MX104")]
    [InlineData("-18 LUFS", "MX104")]
    [InlineData("-18,5", "MX104")]
    [InlineData("sfz", "MX104")]
    [InlineData("-18 >", "MX104")]
    [InlineData("-18 > -6 > -3", "MX104")]
    [InlineData("-18 > under a.b by 3", "MX104")]
    [InlineData("under", "MX104")]
    [InlineData("under a.b", "MX104")]
    [InlineData("under by 8", "MX104")]
    [InlineData("under a.b c.d by 8", "MX104")]
    [InlineData("under a.b, by 8", "MX104")]
    [InlineData("under a.b, a.b by 8", "MX104")]
    [InlineData("under a.b by much", "MX104")]
    [InlineData("under a.b by -8", "MX111")]
    [InlineData("-200", "MX111")]
    [InlineData("99999999999999999999999", "MX104")]
    public void What_is_not_a_level_is_refused_with_a_remedy(string text, string code)
    {
        var problem = LevelText.Read(text, DynamicsTable.Ours, out _, out _);
        Assert.Equal(code, problem?.Code);
        Assert.NotEqual("", problem!.Remedy);
    }

    [Fact]
    public void A_written_level_reads_back_as_itself()
    {
        var number = Gen.Int[-1200, 400].Select(tenths => (Level)new Level.At(Decibels.Of(tenths / 10.0)));
        var dynamic = Gen.OneOf([.. DynamicsTable.Ours.Names.Select(Gen.Const)])
            .Select(name => (Level)new Level.At(DynamicsTable.Ours[name]!.Value, name));
        var lean = Gen.Select(Gen.OneOf(Gen.Const("a.b"), Gen.Const("c.d-e"), Gen.Const("x_1.y.z")).HashSet[1, 3], Gen.Int[-400, 400])
            .Select((names, tenths) => (Level)new Level.Lean([.. names.Order()], Decibels.Of(tenths / 10.0)));
        var plain = Gen.OneOf(number, dynamic, Gen.Const<Level>(new Level.Off()));
        var move = Gen.Select(plain, plain);
        Gen.OneOf(move, Gen.OneOf(plain, lean).Select(level => (level, level))).Sample(levels =>
        {
            Assert.Null(LevelText.Read(LevelText.Write(levels.Item1, levels.Item2), DynamicsTable.Ours, out var start, out var end));
            Assert.Equal(levels, (start, end));
        });
    }
}
