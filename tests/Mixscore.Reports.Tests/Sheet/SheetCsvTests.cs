namespace Mixscore.Reports.Tests.Sheet;

public sealed class SheetCsvTests
{
    // RFC 4180: CRLF, a head, quotes only where needed. 72 quarters a minute: a quarter is 0.833333 s.
    [Fact]
    public void A_row_a_move()
    {
        var input = SampleSheet.Make(4, 4);
        var lines = SheetCsv.Write(input).Split("\r\n");
        Assert.Equal("source,site,strip,from,to,from_seconds,to_seconds,from_db,to_db,beats", lines[0]);
        Assert.Equal("site1.source1,site1,1,1:1,1:2,0,0.833333,0,-12.34,1", lines[1]);
        Assert.Equal(input.Rides.Sum(ride => SheetMove.Of(input.Plan.Timeline, ride.Ride).Count) + 2, lines.Length);
        Assert.Equal("", lines[^1]);
    }

    [Fact]
    public void One_source_is_picked() => Assert.All(SheetCsv.Write(SampleSheet.Make(4, 4), "site1.source2").Split("\r\n")[1..^1], line => Assert.StartsWith("site1.source2,", line));
}
