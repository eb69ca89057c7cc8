using System.IO.Compression;
using System.Text;

namespace Mixscore.Score.Tests;

/// <summary>
/// Whatever bytes come, a reader answers with a score whose timeline can be made, or with faults; never with another
/// exception. Fixed seeds; a failure names its case. MIXSCORE_LONG makes the run long.
/// </summary>
public sealed class ReaderFuzzTests
{
    private static readonly int Cases = Environment.GetEnvironmentVariable("MIXSCORE_LONG") is { Length: > 0 } ? 50_000 : 2_000;

    // A bar of everything: times, voices, words, marks, hairpins, lyrics, signs.
    private static readonly string Rich = Draw.Partwise(
        "<attributes><divisions>12</divisions><transpose><chromatic>-2</chromatic></transpose></attributes><direction><direction-type><metronome><beat-unit>quarter</beat-unit><beat-unit-dot/><per-minute>72-76</per-minute></metronome></direction-type><offset sound=\"yes\">2</offset><sound tempo=\"72.5\" dynamics=\"71\"/></direction><note><grace/><pitch><step>D</step><octave>4</octave></pitch></note><note><pitch><step>C</step><alter>1</alter><octave>4</octave></pitch><duration>24</duration><tie type=\"start\"/><notations><fermata/><dynamics><sfz/></dynamics></notations><lyric number=\"1\"><text>la</text></lyric></note><note><chord/><pitch><step>E</step><octave>4</octave></pitch><duration>24</duration></note><backup><duration>24</duration></backup><forward><duration>12</duration></forward><note time-only=\"1,2\"><rest/><duration>12</duration></note>",
        "<attributes><time><beats>2+3</beats><beat-type>8</beat-type><beats>1</beats><beat-type>4</beat-type></time></attributes><direction><direction-type><wedge type=\"crescendo\" number=\"2\"/></direction-type></direction><direction><direction-type><rehearsal>B</rehearsal></direction-type><direction-type><words>poco rit.</words></direction-type></direction><note><rest/><duration>21</duration></note><direction><direction-type><wedge type=\"stop\" number=\"2\" niente=\"yes\"/></direction-type><staff>2</staff></direction>",
        Draw.Bar("|: segno=s"), Draw.Bar("[1,2 ] :|3 tocoda=c"), Draw.Bar("[3 ]~ D.S._al_Coda dalsegno=s"), Draw.Bar("coda=c Fine"));

    [Fact]
    public void Spoilt_MusicXml_gives_a_score_or_faults() => Run(random => Encoding.UTF8.GetBytes(Mutation.Of(
        random.Next(2) == 0 ? Rich : RandomScores.Of(random.Next(50), new RandomShape()), random)));

    [Fact]
    public void Spoilt_packages_give_a_score_or_faults()
    {
        var whole = Packed(Encoding.UTF8.GetBytes(Rich), CompressionLevel.Optimal);
        var stored = Packed(Encoding.UTF8.GetBytes(Rich), CompressionLevel.NoCompression);
        Run(random => random.Next(3) switch
        {
            0 => Mutation.Of(whole, random),
            1 => Mutation.Of(stored, random),
            _ => Packed(Mutation.Of(Encoding.UTF8.GetBytes(Rich), random), CompressionLevel.Fastest),
        });
    }

    [Fact]
    public void Spoilt_Midi_files_give_a_score_or_faults()
    {
        byte[][] files = [Convert.FromHexString(MidiFileTests.Format0), Convert.FromHexString(MidiFileTests.Format1), Convert.FromHexString(MidiFileTests.Smpte)];
        Run(random => Mutation.Of(files[random.Next(files.Length)], random));
    }

    [Fact]
    public void Noise_gives_faults() => Run(random =>
    {
        var noise = new byte[random.Next(200)];
        random.NextBytes(noise);
        string[] heads = ["PK", "MThd", "<", ""];
        return [.. Encoding.ASCII.GetBytes(heads[random.Next(heads.Length)]), .. noise];
    });

    private static void Run(Func<Random, byte[]> draw)
    {
        for (var number = 0; number < Cases; number++)
        {
            var bytes = draw(new Random(number));
            if (Answer(bytes, number) is not var (score, built, performance)) continue;
            Assert.Equal(built.Timeline.Bars.Count, built.Order.Steps.Count);
            Assert.Equal(score.Parts.Count, performance.Parts.Count);
            Assert.True(built.Timeline.Duration.Value > 0, $"case {number} lasts no time");
        }
    }

    private static (WrittenScore Score, BuiltTimeline Built, Performance Performance)? Answer(byte[] bytes, int number)
    {
        try
        {
            var score = ScoreFile.Read(new MemoryStream(bytes), "spoilt");
            var built = TimelineBuilder.Build(score);
            return (score, built, Performance.Of(score, built.Timeline));
        }
        catch (InputException faults)
        {
            Assert.All(faults.Faults, fault => Assert.StartsWith("MX0", fault.Code));
            return null;
        }
        catch (Exception broken)
        {
            throw new InvalidOperationException($"case {number} is answered with another exception", broken);
        }
    }

    private static byte[] Packed(byte[] score, CompressionLevel level)
    {
        using var memory = new MemoryStream();
        using (var zip = new ZipArchive(memory, ZipArchiveMode.Create, leaveOpen: true))
        {
            using (var container = zip.CreateEntry("META-INF/container.xml", level).Open())
                container.Write("<container><rootfiles><rootfile full-path=\"score.xml\"/></rootfiles></container>"u8);
            using var entry = zip.CreateEntry("score.xml", level).Open();
            entry.Write(score);
        }
        return memory.ToArray();
    }
}
