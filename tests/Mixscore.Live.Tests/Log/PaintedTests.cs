using CsCheck;

namespace Mixscore.Live.Tests.Log;

public sealed class PaintedTests
{
    // Against a row of hundred cells, painted one by one.
    [Fact]
    public void What_is_painted_last_is_seen() => Gen.Select(Gen.Int[0, 99], Gen.Int[0, 100], Gen.Int[0, 3]).Array[0, 30].Sample(strokes =>
    {
        var (painted, cells) = (new Painted<int>(), new int?[100]);
        foreach (var (from, to, value) in strokes)
        {
            painted.Paint(from, to, value);
            for (var i = from; i < to; i++) cells[i] = value;
        }
        for (var i = 0; i < 100; i++)
            Assert.Equal(cells[i], painted.Pieces.Where(piece => piece.From <= i && i < piece.To).Select(piece => (int?)piece.Value).SingleOrDefault());
        foreach (var (before, after) in painted.Pieces.Zip(painted.Pieces.Skip(1)))
            Assert.True(before.To < after.From || (before.To == after.From && before.Value != after.Value));
    });
}
