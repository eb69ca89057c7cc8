using System.Text;
using System.Text.Json;
using CsCheck;
using Mixscore.Loudness;
using Mixscore.Planning.Tests.Levels;
using Mixscore.Score;

namespace Mixscore.Planning.Tests.Rides;

public sealed class RidesFileTests
{
    private static readonly FittedSource Horn = new(
        new Ride(
            "north.horn",
            [
                new Vertex(Quarters.Zero, null), new Vertex(new Quarters(14), null), new Vertex(new Quarters(31, 2), Decibels.Of(-18.1234567)),
                new Vertex(new Quarters(80), Decibels.Of(-0.0000001)),
            ],
            Decibels.Of(-60)),
        [new WidenedStretch(new Quarters(16), new Quarters(20), Decibels.Of(9), Because.TooQuiet, "bar 5: north.horn arrives 9 dB too quiet for a fader that tops at +10")]);

    // The keys and shapes are a contract: `sources` [{`source`, `vertices` [{`position`, `quarters`, `seconds`, `db`}],
    // `widened` [{`from`, `to`, `by`, `because`}]}]; `null` is off.
    [Fact]
    public void The_file_keeps_its_contract() => Assert.Equal(
        """
        {
          "bottom": -60,
          "sources": [
            {
              "source": "north.horn",
              "vertices": [
                {
                  "position": "1",
                  "quarters": "0",
                  "seconds": 0,
                  "db": null
                },
                {
                  "position": "4:3",
                  "quarters": "14",
                  "seconds": 14,
                  "db": null
                },
                {
                  "position": "4:4+1/2",
                  "quarters": "31/2",
                  "seconds": 15.5,
                  "db": -18.123457
                },
                {
                  "position": "end",
                  "quarters": "80",
                  "seconds": 80,
                  "db": 0
                }
              ],
              "widened": [
                {
                  "from": "5",
                  "to": "6",
                  "fromQuarters": "16",
                  "toQuarters": "20",
                  "by": 9,
                  "cause": "too-quiet",
                  "because": "bar 5: north.horn arrives 9 dB too quiet for a fader that tops at +10"
                }
              ]
            }
          ]
        }

        """.ReplaceLineEndings("\n"), Written([Horn]));

    [Fact]
    public void What_was_written_reads_back()
    {
        var read = Assert.Single(Read(Written([Horn])));
        Assert.Equal((Horn.Source, Horn.Ride.Bottom), (read.Source, read.Ride.Bottom));
        Assert.Equal(Horn.Widened, read.Widened);
        Assert.Equal(Horn.Ride.Vertices.Select(vertex => vertex.At), read.Ride.Vertices.Select(vertex => vertex.At));
        foreach (var (a, b) in Horn.Ride.Vertices.Zip(read.Ride.Vertices))
            Assert.Equal(a.Gain?.Value ?? double.MinValue, b.Gain?.Value ?? double.MinValue, 5e-7);
        Assert.Equal(Written([Horn]), Written([read]));
        Assert.Empty(Read(Written([])));
    }

    [Fact]
    public void Every_cause_reads_back()
    {
        foreach (var because in Enum.GetValues<Because>())
            Assert.Equal(because, Read(Written([Horn with { Widened = [Horn.Widened[0] with { Because = because }] }]))[0].Widened[0].Because);
    }

    [Fact]
    public void The_file_appears_whole_and_leaves_nothing_beside_it()
    {
        var folder = Directory.CreateTempSubdirectory("rides-");
        try
        {
            var path = Path.Combine(folder.FullName, "out", "rides.json");
            RidesFile.Write(path, Scores.Twenty, [Horn]);
            RidesFile.Write(path, Scores.Twenty, [Horn]);
            Assert.Equal([path], Directory.GetFiles(Path.GetDirectoryName(path)!));
            Assert.Equal("north.horn", Assert.Single(RidesFile.Read(path)).Source);
        }
        finally
        {
            folder.Delete(recursive: true);
        }
    }

    [Theory]
    [InlineData("{\n \"sources\": [", 2)]
    [InlineData("{}", 0)]
    [InlineData("[]", 0)]
    [InlineData("""{"sources": [{}]}""", 0)]
    [InlineData("""{"bottom": -60, "sources": [{"source": "a", "vertices": [{"quarters": "1/0", "db": 0}], "widened": []}]}""", 0)]
    [InlineData("""{"bottom": -60, "sources": [{"source": "a", "vertices": [{"quarters": "0", "db": 0}], "widened": []}]}""", 0)]
    [InlineData("""{"bottom": 1e999, "sources": [{"source": "a"}]}""", 0)]
    public void What_is_not_such_a_file_is_a_fault_with_its_place(string text, int line)
    {
        var fault = Assert.Single(Assert.Throws<InputException>(() => Read(text)).Faults);
        Assert.Equal(("MX191", "rides.json", line), (fault.Code, fault.Place.File, fault.Place.Line));
        Assert.Contains("mixscore fit", fault.Remedy, StringComparison.Ordinal);
    }

    [Fact]
    public void Spoilt_text_is_read_or_refused_and_nothing_else()
    {
        var good = Written([Horn]);
        Gen.Select(Gen.Int[0, good.Length - 1], Gen.Char["{}[],:\"0-e/ nul"], Gen.Int[0, 20]).Sample((at, with, cut) =>
        {
            var spoilt = good[..at] + with + good[Math.Min(good.Length, at + cut)..];
            try
            {
                Read(spoilt);
            }
            catch (InputException refused)
            {
                Assert.NotEmpty(refused.Faults);
            }
        }, iter: 2000);
    }

    // The file is UTF-8 JSON to any other reader too.
    [Fact]
    public void Another_reader_finds_null_for_off()
    {
        using var document = JsonDocument.Parse(Written([Horn]));
        Assert.Equal(JsonValueKind.Null, document.RootElement.GetProperty("sources")[0].GetProperty("vertices")[0].GetProperty("db").ValueKind);
    }

    private static string Written(IReadOnlyList<FittedSource> sources)
    {
        using var stream = new MemoryStream();
        RidesFile.Write(stream, Scores.Twenty, sources);
        return Encoding.UTF8.GetString(stream.ToArray());
    }

    private static IReadOnlyList<FittedSource> Read(string text)
    {
        using var stream = new MemoryStream(Encoding.UTF8.GetBytes(text));
        return RidesFile.Read(stream, "rides.json");
    }
}
