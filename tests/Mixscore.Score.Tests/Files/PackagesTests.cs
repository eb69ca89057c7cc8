using System.IO.Compression;
using System.Text;

namespace Mixscore.Score.Tests;

// Packages as programs and file systems make them. MusicXML 4.0, container file; common practice for the rest.
public sealed class PackagesTests
{
    private const string Type = "media-type='application/vnd.recordare.musicxml+xml'";

    [Theory]
    [InlineData("music/score.xml", "<rootfile full-path='music/score.xml'/>")]
    [InlineData("score.xml", "<rootfile full-path='./score.xml'/>")]
    [InlineData("score.xml", "<rootfile full-path='/score.xml'/>")]
    [InlineData("music/score.xml", "<rootfile full-path='music\\score.xml'/>")]
    [InlineData("My Score.xml", "<rootfile full-path='My%20Score.xml'/>")]
    [InlineData("Score.xml", "<rootfile full-path='score.XML'/>")]
    [InlineData("score.xml", "<rootfile full-path='score.pdf' media-type='application/pdf'/><rootfile full-path='score.xml' " + Type + "/><rootfile full-path='parts/horn.xml' " + Type + "/>")]
    [InlineData("score.musicxml", "<rootfile full-path='score.musicxml' media-type='text/xml'/>")]
    public void The_container_names_the_score(string path, string rootFiles)
    {
        var container = $"\uFEFF<?xml version='1.0' encoding='UTF-8'?><container><rootfiles>{rootFiles}</rootfiles></container>";
        Assert.Equal("Horn", Read((path, Draw.Partwise(Draw.Whole)), ("parts/horn.xml", "<html/>"), ("score.pdf", "%PDF"), ("META-INF/container.xml", container)));
    }

    [Fact]
    public void Without_a_container_what_a_file_system_adds_is_passed_over() =>
        Assert.Equal("Horn", Read(("__MACOSX/._score.xml", "\0\0"), ("._score.xml", "\0\0"), ("notes.txt", ""), ("score/score.xml", Draw.Partwise(Draw.Whole))));

    private static string Read(params (string Path, string Content)[] entries)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
            foreach (var (path, content) in entries)
            {
                using var entry = zip.CreateEntry(path).Open();
                entry.Write(Encoding.UTF8.GetBytes(content));
            }
        return ScoreFile.Read(memory, "drawn.mxl").Parts[0].Name;
    }
}
