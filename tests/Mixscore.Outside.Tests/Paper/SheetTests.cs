using System.Globalization;
using System.Text.Json;
using System.Text.RegularExpressions;
using System.Xml.Linq;
using Mixscore.Planning;
using Mixscore.Reports;
using Mixscore.Reports.Tests.Sheet;
using Mixscore.Score;

namespace Mixscore.Outside.Tests.Paper;

/// <summary>pdftotext (poppler) reads the sheet; its moves are compared with rides.json, read from its contract alone.</summary>
public sealed partial class SheetTests(DemoRun demo) : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore").FullName;

    public static TheoryData<string> Papers => ["A4", "A4 turned", "Letter", "Letter turned"];

    [Fact]
    public void Every_move_of_the_demo_stands_on_its_sheet_once()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var text = Text(demo.PathOf("out", "sheet.pdf"));
        var expected = demo.Json("out", "rides.json").GetProperty("sources").EnumerateArray().SelectMany(Moves).Order(StringComparer.Ordinal).ToArray();
        Assert.NotEmpty(expected);
        Assert.Equal(expected, Move().Matches(text).Select(match => match.Value).Order(StringComparer.Ordinal));
        Assert.Equal(expected.Length, text.Count(c => c == '→'));
    }

    // A sheet of one source holds that source's moves and no other's, in their order, whatever the paper.
    [Theory, MemberData(nameof(Papers))]
    public void A_sheet_of_one_source_has_its_moves(string paper)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var input = Demo();
        foreach (var source in demo.Json("out", "rides.json").GetProperty("sources").EnumerateArray())
        {
            var file = Path.Combine(_folder, "one.pdf");
            File.WriteAllBytes(file, SheetBook.Write(input, Paper(paper), source.GetProperty("source").GetString()));
            Assert.Equal(Moves(source).Order(StringComparer.Ordinal), Move().Matches(Text(file)).Select(match => match.Value).Order(StringComparer.Ordinal));
        }
    }

    // Where two words touch, one of them cannot be read: no two boxes of words overlap by more than a point each way.
    [Theory, MemberData(nameof(Papers))]
    public void No_two_words_overlap_and_none_leaves_the_page(string paper)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        foreach (var input in (SheetInput[])[Demo(), SampleSheet.Make(24, 40, 1), SampleSheet.Make(2, 3)])
        {
            var file = Path.Combine(_folder, "sheet.pdf");
            File.WriteAllBytes(file, SheetBook.Write(input, Paper(paper)));
            foreach (var page in Pages(file))
            {
                foreach (var word in page.Words) Assert.True(word.Left >= 20 && word.Right <= page.Width - 20 && word.Top >= 15 && word.Bottom <= page.Height - 10, $"{word.Text} at {word.Left}, {word.Top}");
                for (var i = 0; i < page.Words.Count; i++)
                    for (var k = i + 1; k < page.Words.Count; k++)
                        Assert.False(page.Words[i].Overlaps(page.Words[k]), $"{paper}: \"{page.Words[i].Text}\" and \"{page.Words[k].Text}\" at {page.Words[k].Left:0}, {page.Words[k].Top:0}");
            }
        }
    }

    [Fact]
    public void Its_font_is_within_and_a_subset()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var fonts = Outside.Run("pdffonts", demo.PathOf("out", "sheet.pdf")).Output.Split('\n', StringSplitOptions.RemoveEmptyEntries)[2..];
        Assert.Equal(2, fonts.Length);
        Assert.All(fonts, font => Assert.Matches("CID TrueType +Identity-H +yes yes yes", font));
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    private sealed record Word(string Text, double Left, double Top, double Right, double Bottom)
    {
        // A word's box is as high as its font's tallest letter: a fifth above and below is air.
        private double Air => (Bottom - Top) / 5;

        internal bool Overlaps(Word other) => Math.Min(Right, other.Right) - Math.Max(Left, other.Left) > 1 && Math.Min(Bottom - Air, other.Bottom - other.Air) - Math.Max(Top + Air, other.Top + other.Air) > 1;
    }

    private static IEnumerable<(double Width, double Height, IReadOnlyList<Word> Words)> Pages(string file)
    {
        var ended = Outside.Run("pdftotext", "-bbox", file, "-");
        Assert.True(ended.Code == 0, ended.Error);
        static double Number(XElement element, string name) => double.Parse(element.Attribute(name)!.Value, CultureInfo.InvariantCulture);
        foreach (var page in XDocument.Parse(ended.Output).Descendants().Where(element => element.Name.LocalName == "page"))
            yield return (Number(page, "width"), Number(page, "height"), [.. page.Descendants().Select(word => new Word(word.Value, Number(word, "xMin"), Number(word, "yMin"), Number(word, "xMax"), Number(word, "yMax")))]);
    }

    private static string Text(string file)
    {
        var ended = Outside.Run("pdftotext", "-raw", file, "-");
        Assert.True(ended.Code == 0, ended.Error);
        return ended.Output;
    }

    /// <summary>The moves of a source as the sheet should say them, from rides.json and the beats that <c>read</c> tells.</summary>
    private IEnumerable<string> Moves(JsonElement source)
    {
        _beats ??= [.. JsonDocument.Parse(Outside.Mixscore("read", demo.PathOf(), "--json").Output).RootElement.GetProperty("played").EnumerateArray()
            .SelectMany(bar => bar.GetProperty("beats").EnumerateArray()).Select(beat => Quarters(beat.GetString()!))];
        var vertices = source.GetProperty("vertices").EnumerateArray().ToArray();
        for (var i = 1; i < vertices.Length; i++)
        {
            var (from, to) = (Gain(vertices[i - 1]), Gain(vertices[i]));
            if (from == to) continue;
            var (start, end) = (Quarters(vertices[i - 1].GetProperty("quarters").GetString()!), Quarters(vertices[i].GetProperty("quarters").GetString()!));
            var beats = _beats.Count(beat => beat >= start - 1e-9 && beat < end - 1e-9);
            var position = vertices[i - 1].GetProperty("position").GetString()!;
            var value = to is { } gain ? Math.Round(gain, 1) : 0;
            var sign = value > 0 ? "+" : value < 0 ? "−" : "";
            var said = to is null ? "off" : string.Create(CultureInfo.InvariantCulture, $"{sign}{Math.Abs(value):0.0} dB");
            yield return $"{position}{(position.Contains(':') ? "" : ":1")} → {said} over {beats} beat{(beats == 1 ? "" : "s")}";
        }
    }

    private double[]? _beats;

    private static double? Gain(JsonElement vertex) => vertex.GetProperty("db") is { ValueKind: JsonValueKind.Number } db ? db.GetDouble() : null;

    private static double Quarters(string text)
    {
        var parts = text.Split('/');
        return double.Parse(parts[0], CultureInfo.InvariantCulture) / (parts.Length > 1 ? double.Parse(parts[1], CultureInfo.InvariantCulture) : 1);
    }

    private SheetInput Demo()
    {
        var plan = PlanOnScore.Open(Directory.GetFiles(demo.PathOf(), "*.mix.yaml").Single());
        return new SheetInput { Plan = plan, Performance = Performance.Of(plan.Score, plan.Timeline), Rides = RidesFile.Read(demo.PathOf("out", "rides.json")), Date = new DateOnly(2026, 5, 1), Version = "0123abcd" };
    }

    private static SheetPaper Paper(string name)
    {
        var paper = name.StartsWith("A4", StringComparison.Ordinal) ? SheetPaper.A4 : SheetPaper.Letter;
        return name.EndsWith("turned", StringComparison.Ordinal) ? paper.Turned : paper;
    }

    [GeneratedRegex(@"\S+ → (off|[+−]?[0-9]+\.[0-9] dB) over [0-9.]+ beats?")]
    private static partial Regex Move();
}
