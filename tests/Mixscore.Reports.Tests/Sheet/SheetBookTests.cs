using System.Text;

namespace Mixscore.Reports.Tests.Sheet;

public sealed class SheetBookTests
{
    public static TheoryData<string, int> Papers => new(from paper in (string[])["A4", "Letter", "A4 turned", "Letter turned"] from sources in (int[])[1, 9, 24] select (paper, sources));

    [Theory, MemberData(nameof(Papers))]
    public void Every_bar_of_every_source_stands_on_one_page_and_fits(string name, int sources)
    {
        var paper = name.StartsWith("A4", StringComparison.Ordinal) ? SheetPaper.A4 : SheetPaper.Letter;
        if (name.EndsWith("turned", StringComparison.Ordinal)) paper = paper.Turned;
        var input = SampleSheet.Make(sources);
        var frame = new SheetFrame(paper, 100);
        using var measure = Canvas.ForMeasuring();
        var rows = SheetRow.Of(input, null);
        var systems = new SystemBreaker(frame, input, rows, new SheetLeads(input), measure).Systems().ToArray();
        foreach (var row in rows)
            Assert.Equal(input.Plan.Timeline.Bars, systems.Where(system => system.Rows.Any(one => one.Row == row)).SelectMany(system => system.Stretch.Bars));
        Assert.All(systems, system => Assert.True(system.Height <= frame.Height, $"{system.Height} of {frame.Height}"));
        foreach (var page in BarPage.Paged(frame, systems))
            Assert.True(page.Sum(system => system.Height) + SheetSystem.Between * (page.Count - 1) <= frame.Height + 1e-9);
    }

    [Fact]
    public void The_same_plan_prints_the_same_bytes()
    {
        var input = SampleSheet.Make(3);
        Assert.Equal(SheetBook.Write(input, SheetPaper.A4), SheetBook.Write(input, SheetPaper.A4));
    }

    [Fact]
    public void It_is_a_document_with_the_font_within()
    {
        var text = Encoding.Latin1.GetString(SheetBook.Write(SampleSheet.Make(2), SheetPaper.Letter));
        Assert.StartsWith("%PDF-1.", text);
        Assert.Contains("/FontFile2", text);
        Assert.Contains("/MediaBox[0 0 612 792]", text);
    }

    [Fact]
    public void A_source_that_is_not_there_is_refused() => Assert.Throws<ArgumentException>(() => SheetBook.Write(SampleSheet.Make(2), SheetPaper.A4, "north.tuba"));
}
