using System.IO.Compression;
using System.Text;

namespace Mixscore.Score.Tests;

// Encodings as programs write them, plain and packed. Derived; W3C XML 1.0, appendix F, for the byte order marks.
public sealed class XmlInputTests
{
    private static readonly string Text = Draw.Partwise(Draw.Whole).Replace("Horn", "Flöte – “hoch”", StringComparison.Ordinal);

    public static TheoryData<string, bool> Encodings()
    {
        var data = new TheoryData<string, bool>();
        foreach (var name in (string[])["utf-8", "utf-8 with mark", "UTF-16 little", "UTF-16 little without mark", "UTF-16 big", "UTF-16 big without mark", "UTF-8 that says UTF-16", "windows-1252", "Windows-1252 single quotes"])
            foreach (var isPacked in (bool[])[false, true]) data.Add(name, isPacked);
        return data;
    }

    [Theory, MemberData(nameof(Encodings))]
    public void Names_read_in_every_encoding(string name, bool isPacked)
    {
        var bytes = Bytes(name);
        var score = ScoreFile.Read(new MemoryStream(isPacked ? Packed(bytes) : bytes), "drawn");
        Assert.Equal("Flöte – “hoch”", score.Parts[0].Name);
        Assert.Equal(new Quarters(4), score.Bars[0].Length);
    }

    [Fact]
    public void A_document_type_is_passed_over_and_never_fetched()
    {
        var text = Draw.Partwise(Draw.Whole).Replace("<score-partwise>", "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 4.0 Partwise//EN\" \"http://192.0.2.1/partwise.dtd\"><score-partwise>", StringComparison.Ordinal);
        Assert.Single(Draw.Read(text).Bars);
    }

    private static byte[] Bytes(string name)
    {
        static string Declared(string encoding) => Text.Replace("<?xml version=\"1.0\"?>", $"<?xml version=\"1.0\" encoding=\"{encoding}\"?>", StringComparison.Ordinal);
        static byte[] Marked(Encoding encoding, string text) => [.. encoding.GetPreamble(), .. encoding.GetBytes(text)];
        return name switch
        {
            "utf-8" => Encoding.UTF8.GetBytes(Declared("UTF-8")),
            "utf-8 with mark" => Marked(new UTF8Encoding(true), Declared("UTF-8")),
            "UTF-16 little" => Marked(Encoding.Unicode, Declared("UTF-16")),
            "UTF-16 little without mark" => Encoding.Unicode.GetBytes(Declared("UTF-16")),
            "UTF-16 big" => Marked(Encoding.BigEndianUnicode, Declared("UTF-16")),
            "UTF-16 big without mark" => Encoding.BigEndianUnicode.GetBytes(Declared("UTF-16")),
            "UTF-8 that says UTF-16" => Encoding.UTF8.GetBytes(Declared("UTF-16")),
            "windows-1252" => Single(Declared("windows-1252")),
            _ => Single(Declared("Windows-1252").Replace('"', '\'').Replace("'1.0'", "\"1.0\"", StringComparison.Ordinal)),
        };
    }

    /// <summary>One byte a character: Latin-1, and the four signs of 80–9F that the text holds (WHATWG Encoding, index windows-1252).</summary>
    private static byte[] Single(string text) => [.. text.Select(c => c switch
    {
        '–' => (byte)0x96,
        '“' => (byte)0x93,
        '”' => (byte)0x94,
        _ => (byte)c,
    })];

    private static byte[] Packed(byte[] score)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            Add("META-INF/container.xml", "<container><rootfiles><rootfile full-path=\"music/score.xml\"/></rootfiles></container>"u8.ToArray());
            Add("music/score.xml", score);

            void Add(string path, byte[] content)
            {
                using var entry = zip.CreateEntry(path).Open();
                entry.Write(content);
            }
        }
        return memory.ToArray();
    }
}
