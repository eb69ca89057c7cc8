namespace Mixscore.Score.Tests;

public sealed class ByteCursorTests
{
    // Standard MIDI Files 1.0, variable-length quantities: all published examples.
    [Theory]
    [InlineData("00", 0x00)]
    [InlineData("40", 0x40)]
    [InlineData("7F", 0x7F)]
    [InlineData("8100", 0x80)]
    [InlineData("C000", 0x2000)]
    [InlineData("FF7F", 0x3FFF)]
    [InlineData("818000", 0x4000)]
    [InlineData("C08000", 0x100000)]
    [InlineData("FFFF7F", 0x1FFFFF)]
    [InlineData("81808000", 0x200000)]
    [InlineData("C0808000", 0x8000000)]
    [InlineData("FFFFFF7F", 0xFFFFFFF)]
    public void Quantities_read_as_published(string hex, int quantity)
    {
        var cursor = On(hex);
        Assert.Equal(quantity, cursor.Quantity());
        Assert.True(cursor.IsAtEnd);
    }

    // SMF 1.0: four bytes are the most.
    [Theory]
    [InlineData("FFFFFFFF7F")]
    [InlineData("8080808000")]
    [InlineData("81")]
    [InlineData("")]
    public void A_quantity_that_does_not_end_is_refused(string hex) =>
        Assert.Equal("MX021", Assert.Throws<InputException>(() => On(hex).Quantity()).Faults[0].Code);

    [Fact]
    public void Parts_know_their_place_in_the_file_and_end_with_themselves()
    {
        var cursor = On("0102030405");
        cursor.Byte();
        var part = cursor.Part(2);
        Assert.Equal((1, 2), (part.Place, part.Left));
        Assert.Equal(0x0203, part.Word());
        Assert.Throws<InputException>(() => part.Byte());
        Assert.Equal(4, cursor.Byte());
    }

    private static ByteCursor On(string hex) => new(Convert.FromHexString(hex), 0, "drawn.mid");
}
