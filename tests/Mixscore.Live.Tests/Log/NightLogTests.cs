using System.Text;
using CsCheck;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Log;

public class NightLogTests
{
    private static readonly NightHead Head = new(new DateTimeOffset(2026, 11, 25, 20, 0, 0, TimeSpan.FromHours(1)), "night.mix.yaml", "k", "click", ["The hall's desk"], "boot", TimeSpan.FromSeconds(100));

    // The contract: JSON lines with t, at, kind.
    [Fact]
    public void A_line_says_when_where_and_what()
    {
        var lines = Lines(log =>
        {
            log.Add(new LogEntry(LogKind.Take, TimeSpan.FromSeconds(12.345), new Seconds(4.75)) { Index = 0, HasGain = true, Gain = Decibels.Of(-3.25) });
            log.Add(new LogEntry(LogKind.Hand, TimeSpan.FromSeconds(13), new Seconds(5)) { Index = 2, HasGain = true });
            log.Add(new LogEntry(LogKind.HoldAll, TimeSpan.FromSeconds(13), new Seconds(-2)));
        });
        Assert.Equal("""{"t":12.345,"at":"3:2+1/2","kind":"take","seconds":4.75,"source":"north.voice","db":-3.25}""", lines[1]);
        Assert.Equal("""{"t":13,"at":"3:3","kind":"hand","seconds":5,"source":"south.engine","db":null}""", lines[2]);
        Assert.Equal("""{"t":13,"at":null,"kind":"hold-all","seconds":-2}""", lines[3]);
    }

    [Fact]
    public void What_is_written_is_read_back() => Gen.Select(Gen.Enum<LogKind>(), Gen.Double[0, 40_000], Gen.Double[-3, 31.9], Gen.Int[0, 2], Gen.Bool, Gen.Double[-60, 10], Gen.String)
        .Where(one => one.Item1 is not (LogKind.Begin or LogKind.Resume))
        .Array[1, 20].Sample(all =>
        {
            var plan = Pieces.Three();
            var entries = all.Select(one => new LogEntry(one.Item1, TimeSpan.FromSeconds(one.Item2), new Seconds(one.Item3))
            {
                Index = one.Item1 == LogKind.Desk ? 0 : one.Item4,
                HasGain = one.Item5,
                Gain = one.Item5 ? Decibels.Of(one.Item6) : null,
                Number = one.Item6,
                Text = Encoding.UTF8.GetString(Encoding.UTF8.GetBytes(one.Item7)),
            }).ToArray();
            var lines = Lines(log => Array.ForEach(entries, entry => log.Add(entry)));
            Assert.Equal(entries.Length + 1, lines.Length);
            for (var i = 0; i < entries.Length; i++)
            {
                var (entry, read) = (entries[i], LogLine.Read(lines[i + 1])!);
                Assert.Equal((entry.Kind, entry.Text, entry.HasGain), (read.Kind, read.Text, read.HasGain));
                Assert.Equal(entry.When.TotalSeconds, read.T.TotalSeconds, 0.0006);
                Assert.Equal(entry.At.Value, read.Seconds!.Value.Value, 0.0001);
                Assert.Equal(entry.Gain?.Value ?? 0, read.Gain?.Value ?? 0, 0.001);
                if (entry.Kind != LogKind.Desk) Assert.Equal(plan.Sources[entry.Index].Source.Name, read.Source);
                if (entry.At < Seconds.Zero) Assert.Null(read.At);
                else
                {
                    // The position is cut to a hundredth of a beat, here 5 ms.
                    Assert.True(plan.Timeline.TryResolve(Position.Parse(read.At!), out var place, out _));
                    Assert.InRange(entry.At.Value - plan.Timeline.Tempo.SecondsAt(place).Value, -1e-6, 0.0051);
                }
            }
        }, iter: 200);

    [Fact]
    public void A_disk_that_is_full_loses_nothing_and_stops_nobody()
    {
        var file = new Disk { IsFull = true };
        using var log = new NightLog(Pieces.Three(), file, Head, TimeSpan.Zero, ownThread: false);
        for (var i = 0; i < 100; i++)
        {
            log.Add(new LogEntry(LogKind.Mark, TimeSpan.FromSeconds(i), Seconds.Zero) { Text = $"{i}" });
            log.Write();
        }
        Assert.Equal("no room", log.Trouble);
        file.IsFull = false;
        log.Write();
        Assert.Null(log.Trouble);
        Assert.Equal(0, log.Lost);
        Assert.Equal(Enumerable.Range(0, 100).Select(i => $"{i}"), file.Lines.Skip(1).Select(line => LogLine.Read(line)!.Text!));
    }

    [Fact]
    public void A_listener_that_fails_does_not_end_the_log()
    {
        var file = new Disk();
        using var log = new NightLog(Pieces.Three(), file, Head, TimeSpan.Zero, ownThread: false);
        using var bad = log.Entries.Subscribe(new Deaf());
        log.Add(new LogEntry(LogKind.Arm, TimeSpan.Zero, Seconds.Zero));
        log.Write();
        log.Add(new LogEntry(LogKind.Disarm, TimeSpan.Zero, Seconds.Zero));
        log.Write();
        Assert.Equal(["begin", "arm", "disarm"], file.Lines.Select(line => LogNames.Of(LogLine.Read(line)!.Kind)));
    }

    private sealed class Deaf : IObserver<LogEntry>
    {
        public void OnCompleted()
        {
        }

        public void OnError(Exception error)
        {
        }

        public void OnNext(LogEntry value) => throw new InvalidOperationException("what?");
    }

    [Fact]
    public void What_comes_faster_than_it_is_written_is_counted()
    {
        using var log = new NightLog(Pieces.Three(), new Disk(), Head, TimeSpan.Zero, ownThread: false);
        for (var i = 0; i < 70_000; i++) log.Add(new LogEntry(LogKind.Position, TimeSpan.Zero, Seconds.Zero));
        Assert.Equal(70_000 - 65_536, log.Lost);
    }

    [Fact]
    public void A_log_that_was_cut_goes_on_with_whole_lines()
    {
        var folder = Directory.CreateTempSubdirectory("night").FullName;
        try
        {
            string path;
            using (var file = LogFile.Begin(folder, Head.Date))
            {
                path = file.Path;
                Assert.Equal("2026-11-25T20-00-00.log.jsonl", Path.GetFileName(path));
                using var log = new NightLog(Pieces.Three(), file, Head, TimeSpan.Zero, ownThread: false);
                log.Add(new LogEntry(LogKind.Arm, TimeSpan.FromSeconds(1), Seconds.Zero));
            }
            File.AppendAllText(path, """{"t":2,"at":"1","ki""");
            using (var log = new NightLog(Pieces.Three(), LogFile.GoOn(path), Head, TimeSpan.FromSeconds(5), ownThread: false))
                log.Add(new LogEntry(LogKind.Stop, TimeSpan.FromSeconds(1), Seconds.Zero));
            var night = Night.Read(path);
            Assert.Equal([LogKind.Begin, LogKind.Arm, LogKind.Resume, LogKind.Stop], night.Lines.Select(line => line.Kind));
            Assert.Equal([3], night.Broken);
            Assert.Equal([0.0, 1, 5, 6], night.Lines.Select(line => line.T.TotalSeconds));
            Assert.Equal(Head, night.Head! with { Desks = Head.Desks });
            // A second run begun within the same second has a log of its own.
            using var second = LogFile.Begin(folder, Head.Date);
            Assert.Equal("2026-11-25T20-00-00-2.log.jsonl", Path.GetFileName(second.Path));
            Assert.Equal(second.Path, LogFile.Newest(folder));
        }
        finally
        {
            Directory.Delete(folder, recursive: true);
        }
    }

    [Fact]
    public void A_file_that_is_no_log_is_told()
    {
        var path = Path.GetTempFileName();
        try
        {
            File.WriteAllText(path, "title: Night Ferry\n");
            Assert.Equal("MX401", Assert.Throws<InputException>(() => Night.Read(path)).Faults[0].Code);
        }
        finally
        {
            File.Delete(path);
        }
    }

    // Where the machine was not started anew its own time tells how long ago, whatever the clock of day was set to.
    [Fact]
    public void Time_since_does_not_hear_to_the_clock_of_day()
    {
        var stepped = Head with { Date = Head.Date.AddHours(-3), Uptime = TimeSpan.FromSeconds(160) };
        Assert.Equal(60, stepped.Since(Head).TotalSeconds);
        var rebooted = Head with { Date = Head.Date.AddSeconds(90), Boot = "another", Uptime = TimeSpan.FromSeconds(20) };
        Assert.Equal(90, rebooted.Since(Head).TotalSeconds);
        Assert.Equal(0, (rebooted with { Date = Head.Date.AddSeconds(-1) }).Since(Head).TotalSeconds);
    }

    private static string[] Lines(Action<NightLog> add)
    {
        var file = new Disk();
        using (var log = new NightLog(Pieces.Three(), file, Head, TimeSpan.Zero, ownThread: false)) add(log);
        return file.Lines;
    }

    internal sealed class Disk : ILogFile
    {
        private readonly MemoryStream _bytes = new();

        public bool IsFull { get; set; }

        public string[] Lines => Encoding.UTF8.GetString(_bytes.ToArray()).Split('\n', StringSplitOptions.RemoveEmptyEntries);

        public void Append(ReadOnlySpan<byte> lines)
        {
            if (IsFull) throw new IOException("no room");
            _bytes.Write(lines);
        }

        public void Dispose()
        {
        }
    }
}
