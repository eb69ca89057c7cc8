using CsCheck;

namespace Mixscore.Reports.Tests.Sheet;

public sealed class ShelvesTests
{
    [Fact]
    public void Texts_that_would_touch_go_on_lines_of_their_own()
    {
        var shelves = new Shelves(0, 100, 5);
        Assert.Equal((0, 10), shelves.Place(10, 30));
        Assert.Equal((1, 44), shelves.Place(44, 30));
        Assert.Equal((0, 50), shelves.Place(50, 30));
        Assert.Equal((2, 60), shelves.Place(70, 40));
        Assert.Equal(3, shelves.Count);
    }

    // The law: no two texts on a line overlap, and none leaves the page if it is no wider than it.
    [Fact]
    public void No_two_texts_overlap() => Gen.Select(Gen.Double[0, 500], Gen.Double[1, 150]).Array[1, 40].Sample(texts =>
    {
        var shelves = new Shelves(0, 500, 4);
        var placed = texts.OrderBy(text => text.Item1).Select(text => (Placed: shelves.Place(text.Item1, text.Item2), Width: text.Item2)).ToArray();
        return placed.All(one => one.Placed.X >= 0 && one.Placed.X + one.Width <= 500 + 1e-9)
            && placed.GroupBy(one => one.Placed.Line).All(line => line.OrderBy(one => one.Placed.X).Zip(line.OrderBy(one => one.Placed.X).Skip(1)).All(pair => pair.First.Placed.X + pair.First.Width + 4 <= pair.Second.Placed.X + 1e-9));
    }, iter: 300);
}
