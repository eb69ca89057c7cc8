using System.IO.Compression;
using System.Text;

namespace Mixscore.Outside.Tests;

/// <summary>Files that mean harm, given to the program as its user would: a clear error, exit 2, in under 5 s and 300 MB.</summary>
public sealed class HostileScoresTests : IDisposable
{
    private const long MostMemory = 300L << 20;
    private static readonly TimeSpan Longest = TimeSpan.FromSeconds(5);

    private readonly DirectoryInfo _folder = Directory.CreateTempSubdirectory("mixscore-hostile-");

    private static readonly Dictionary<string, (string Code, Action<Stream> Write)> Files = new()
    {
        ["truncated.musicxml"] = ("MX003", Text("<score-partwise><part id='P1'><measure number='1'><note>")),
        ["root.musicxml"] = ("MX004", Text("<html></html>")),
        ["entity.musicxml"] = ("MX003", Text("<!DOCTYPE x [<!ENTITY a SYSTEM 'file:///etc/passwd'>]><score-partwise><work><work-title>&a;</work-title></work></score-partwise>")),
        ["laughs.musicxml"] = ("MX003", Text("<!DOCTYPE x [<!ENTITY a 'ha'><!ENTITY b '&a;&a;&a;&a;&a;&a;&a;&a;'><!ENTITY c '&b;&b;&b;&b;&b;&b;&b;&b;'>]><score-partwise><work><work-title>&c;</work-title></work></score-partwise>")),
        ["divisions.musicxml"] = ("MX007", Text("<score-partwise><part id='P1'><measure><attributes><divisions>0</divisions></attributes></measure></part></score-partwise>")),
        ["backup.musicxml"] = ("MX008", Text("<score-partwise><part id='P1'><measure><backup><duration>9</duration></backup></measure></part></score-partwise>")),
        ["bars.musicxml"] = ("MX003", Repeated("<score-partwise><part id='P1'>", "<measure number='1'><note><rest/><duration>4</duration></note></measure>", 1_000_000)),
        ["notes.musicxml"] = ("MX003", Repeated("<score-partwise><part id='P1'><measure>", "<note><rest/><duration>1</duration></note>", 2_000_000)),
        ["parts.musicxml"] = ("MX003", Repeated("<score-partwise>", "<part id='P1'><measure>", 200_000)),
        ["text.musicxml"] = ("MX003", Repeated("<score-partwise><work><work-title>", "long ", 20_000_000)),
        ["attribute.musicxml"] = ("MX003", Repeated("<score-partwise version='", "long ", 20_000_000)),
        ["bomb.mxl"] = ("MX002", Packed(Repeated("<score-partwise>", "<!-- -->", 25_000_000))),
        ["strangers.mxl"] = ("MX003", Packed(Repeated("<score-partwise>", "<a/>", 50_000_000))),
        ["path.mxl"] = ("MX005", Packed(Text("<container><rootfiles><rootfile full-path='../../etc/passwd'/></rootfiles></container>"), "META-INF/container.xml")),
        ["chunk.mid"] = ("MX021", Bytes("4D546864000000060000000100604D54726BFFFFFFFF00FF2F00")),
        ["far.mid"] = ("MX002", Bytes("4D546864000000060000000100014D54726B0000001000FF580401021808" + "FFFFFF7FFF2F0000")),
    };

    public static TheoryData<string> Names() => [.. Files.Keys];

    [Theory, MemberData(nameof(Names))]
    public void Are_refused_in_time_and_in_little_memory(string name)
    {
        var (code, write) = Files[name];
        var path = Path.Combine(_folder.FullName, name);
        using (var file = File.Create(path)) write(file);
        var (ended, peak, time) = RunWatched("read", path);
        Assert.True(ended.Code == 2, $"exit {ended.Code}: {ended.Error}");
        Assert.Contains($"[{code}]", ended.Error);
        Assert.DoesNotContain("   at ", ended.Error);
        Assert.True(time < Longest, $"{name} took {time}");
        Assert.True(peak < MostMemory, $"{name} took {peak >> 20} MB");
    }

    public void Dispose() => _folder.Delete(recursive: true);

    /// <summary>Runs the program and watches the most memory that it has had at once, and the processor's time, which a busy machine does not stretch.</summary>
    private static (Outside.Ended Ended, long Peak, TimeSpan Time) RunWatched(params string[] arguments)
    {
        long peak = 0;
        var time = TimeSpan.Zero;
        var ended = Outside.Run("dotnet", [Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), .. arguments], process =>
        {
            process.Refresh();
            peak = Math.Max(peak, process.PeakWorkingSet64);
            time = process.TotalProcessorTime;
        });
        Assert.True(peak > 0, "the memory was never seen");
        return (ended, peak, time);
    }

    private static Action<Stream> Text(string text) => file => file.Write(Encoding.UTF8.GetBytes(text));

    private static Action<Stream> Bytes(string hex) => file => file.Write(Convert.FromHexString(hex));

    private static Action<Stream> Repeated(string head, string again, int times) => file =>
    {
        file.Write(Encoding.UTF8.GetBytes(head));
        var block = Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat(again, 1000)));
        for (var i = 0; i < times / 1000; i++) file.Write(block);
    };

    private static Action<Stream> Packed(Action<Stream> content, string path = "score.xml") => file =>
    {
        using var zip = new ZipArchive(file, ZipArchiveMode.Create, leaveOpen: true);
        using var entry = zip.CreateEntry(path, CompressionLevel.Fastest).Open();
        content(entry);
    };
}
