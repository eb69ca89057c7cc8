using System.IO.Compression;
using System.Text;

namespace Mixscore.Score.Tests;

/// <summary>Tests that count the processor's time of the whole process, so that nothing else may run beside them.</summary>
[CollectionDefinition(nameof(Alone), DisableParallelization = true)]
public sealed class Alone;

// Each must end in a fault with its code, quickly. Derived.
[Collection(nameof(Alone))]
public sealed class HostileFileTests
{
    /// <summary>The processor's time, which a busy machine does not stretch as it does the clock's.</summary>
    private static TimeSpan Worked => Environment.CpuUsage.TotalTime;

    [Theory]
    [InlineData("MX003", "<score-partwise><part id='P1'><measure number='1'><note>")]
    [InlineData("MX003", "<score-partwise>")]
    [InlineData("MX004", "<html></html>")]
    [InlineData("MX004", "<opus/>")]
    [InlineData("MX006", "<score-partwise/>")]
    [InlineData("MX001", "once upon a time")]
    [InlineData("MX001", "")]
    [InlineData("MX003", "<!DOCTYPE x [<!ENTITY a 'aaaaaaaaaa'><!ENTITY b '&a;&a;&a;'>]><score-partwise><work><work-title>&b;</work-title></work></score-partwise>")]
    [InlineData("MX003", "<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><score-partwise><work><work-title>&a;</work-title></work></score-partwise>")]
    public void A_file_that_is_no_score_is_refused(string code, string text) => Assert.Equal(code, Refused(Encoding.UTF8.GetBytes(text)));

    [Theory]
    [InlineData("MX007", "<attributes><divisions>0</divisions></attributes>")]
    [InlineData("MX007", "<attributes><divisions>-4</divisions></attributes>")]
    [InlineData("MX007", "<attributes><divisions>99999999999</divisions></attributes>")]
    [InlineData("MX008", "<note><rest/><duration>-4</duration></note>")]
    [InlineData("MX008", "<note><rest/><duration>lots</duration></note>")]
    [InlineData("MX008", "<note><rest/><duration>999999999999999</duration></note>")]
    [InlineData("MX008", "<backup><duration>4</duration></backup>")]
    public void Time_that_cannot_be_is_refused(string code, string content) =>
        Assert.Equal(code, Refused(Encoding.UTF8.GetBytes(Draw.Partwise(content))));

    [Fact]
    public void All_faults_are_told_at_once_with_their_lines()
    {
        var faults = Assert.Throws<InputException>(() => Draw.Read(Draw.Partwise("<backup><duration>1</duration></backup>", "<note><rest/><duration>-1</duration></note>"))).Faults;
        Assert.Equal([1, 2], faults.Select(fault => fault.Place.Line));
    }

    [Fact]
    public void A_million_bars_are_refused_in_time()
    {
        var xml = new StringBuilder("<score-partwise><part id='P1'>");
        for (var i = 0; i < 1_000_000; i++) xml.Append("<measure/>");
        var before = Worked;
        Assert.Equal("MX003", Refused(Encoding.UTF8.GetBytes(xml.Append("</part></score-partwise>").ToString())));
        Assert.True(Worked - before < TimeSpan.FromSeconds(5));
    }

    // Very many bars, each with signs that must be looked at again and again.
    [Theory]
    [InlineData(":| tocoda=c")]
    [InlineData(":| fine=yes")]
    [InlineData(":| dacapo=yes tocoda=c")]
    [InlineData("segno=s coda=c :| tocoda=c dalsegno=s")]
    [InlineData("[1 ] :|")]
    [InlineData("|:")]
    public void Signs_in_every_bar_are_unfolded_in_time(string signs)
    {
        const int Bars = 10_000;
        var xml = new StringBuilder("<score-partwise><part id='P1'>");
        var bar = $"<measure>{Draw.Bar(signs)}</measure>";
        for (var i = 0; i < Bars; i++) xml.Append(bar);
        var before = Worked;
        var score = Draw.Read(xml.Append("</part></score-partwise>").ToString());
        Assert.InRange(TimelineBuilder.Build(score).Timeline.Bars.Count, Bars, PlayOrder.MostSteps);
        Assert.True(Worked - before < TimeSpan.FromSeconds(5), $"{Worked - before}");
    }

    [Fact]
    public void An_endless_text_is_refused() =>
        Assert.Equal("MX003", Refused(Encoding.UTF8.GetBytes($"<score-partwise><work><work-title>{new string('a', 20_000_000)}</work-title></work></score-partwise>")));

    [Fact]
    public void A_packed_bomb_is_refused_in_time()
    {
        var package = Package(("score.xml", writer =>
        {
            writer.Write("<score-partwise>"u8);
            var blanks = Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat("<!-- -->", 125_000)));
            for (var i = 0; i < 40; i++) writer.Write(blanks);
        }
        ));
        var before = Worked;
        Assert.Equal("MX002", Refused(package));
        Assert.True(Worked - before < TimeSpan.FromSeconds(5));
    }

    [Theory]
    [InlineData("../../../../etc/passwd")]
    [InlineData("/etc/passwd")]
    [InlineData("missing.xml")]
    public void A_package_that_points_outside_itself_is_refused(string path)
    {
        var package = Package(("META-INF/container.xml", writer => writer.Write(Encoding.UTF8.GetBytes($"<container><rootfiles><rootfile full-path='{path}'/></rootfiles></container>"))));
        Assert.Equal("MX005", Refused(package));
    }

    [Fact]
    public void A_broken_package_is_refused()
    {
        Assert.Equal("MX005", Refused([(byte)'P', (byte)'K', 3, 4, 1, 2, 3]));
        Assert.Equal("MX005", Refused(Package()));
    }

    private static string Refused(byte[] file) =>
        Assert.Throws<InputException>(() => ScoreFile.Read(new MemoryStream(file), "hostile")).Faults[0].Code;

    private static byte[] Package(params (string Name, Action<Stream> Write)[] entries)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (name, write) in entries)
            {
                using var stream = zip.CreateEntry(name, CompressionLevel.SmallestSize).Open();
                write(stream);
            }
        return memory.ToArray();
    }
}
