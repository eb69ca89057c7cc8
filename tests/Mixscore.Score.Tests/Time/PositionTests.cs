using CsCheck;

namespace Mixscore.Score.Tests;

public sealed class PositionTests
{
    private static readonly string[] Letters = ["A", "C", "AA", "Coda", "12.1", "x_7", "b'", "3-4"];

    private static readonly Gen<Position> Positions =
        from movement in Gen.Int[1, 120].Nullable()
        from anchor in Gen.OneOf(Gen.Int[0, 9999].Select(number => $"{number}"), Gen.Int[1, 99].Select(number => $"{number}a"), Gen.Int[0, Letters.Length - 1].Select(i => Letters[i]))
        from pass in Gen.Int[2, 9].Nullable()
        from after in Gen.Int[0, 40]
        from beat in Gen.Int[1, 24]
        from denominator in Gen.Int[1, 64]
        from numerator in Gen.Int[0, denominator - 1]
        select new Position { Movement = movement, Anchor = anchor, Pass = pass, BarsAfter = after, Beat = beat, WithinBeat = new Fraction(numerator, denominator) };

    [Fact]
    public void Text_reads_back_as_the_same_position() =>
        Positions.Sample(position => Assert.Equal(position, Position.Parse(position.ToString())), iter: 5000);

    // What a person may type besides the shortest form. Design: words, position.
    [Theory]
    [InlineData("17", "17")]
    [InlineData(" 17:3 ", "17:3")]
    [InlineData("17:3+1/2", "17:3+1/2")]
    [InlineData("17:3+2/4", "17:3+1/2")]
    [InlineData("17@2:3", "17@2:3")]
    [InlineData("17:1", "17")]
    [InlineData("C+4:1", "C+4")]
    [InlineData("C@2+4:2", "C@2+4:2")]
    [InlineData("ii/17:3", "II/17:3")]
    [InlineData("End", "end")]
    [InlineData("12a", "12a")]
    public void Positions_are_written_in_their_shortest_form(string typed, string shortest) => Assert.Equal(shortest, Position.Parse(typed).ToString());

    [Theory]
    [InlineData("")]
    [InlineData(":3")]
    [InlineData("17:")]
    [InlineData("17:0")]
    [InlineData("17:x")]
    [InlineData("17:1+1")]
    [InlineData("17:1+3/2")]
    [InlineData("17:1+-1/2")]
    [InlineData("17:1+1/0")]
    [InlineData("17@0")]
    [InlineData("17@x")]
    [InlineData("17+x")]
    [InlineData("IIX/17")]
    [InlineData("2/17")]
    [InlineData("17!")]
    [InlineData("17:99999999999")]
    public void What_is_no_position_is_refused_in_words(string typed)
    {
        Assert.False(Position.TryParse(typed, out var position, out var problem));
        Assert.Null(position);
        Assert.NotEmpty(problem!);
        Assert.Throws<FormatException>(() => Position.Parse(typed));
    }

    [Fact]
    public void Any_text_gives_a_position_or_a_problem() => Gen.String[Gen.Char["0123456789aCIVX@:+/-. end"], 0, 12].Sample(text =>
    {
        if (Position.TryParse(text, out var position, out var problem)) Assert.Equal(position, Position.Parse(position!.ToString()));
        else Assert.NotEmpty(problem!);
    }, iter: 5000);
}
