using System.Diagnostics;
using System.Globalization;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Files;

/// <summary>Programs that others wrote read what we wrote. They run where MIXSCORE_OUTSIDE is 1; there a missing one is a failure.</summary>
public partial class OutsideReadersTests
{
    private static readonly TempoMap Bent = new(
        [new TempoPiece(Quarters.Zero, 90), new TempoPiece(new Quarters(8), 72, 60), new TempoPiece(new Quarters(16), 133)]);

    // midicsv 1.1 (Debian): every event as a line; its counts against ours.
    [Fact]
    public void Midicsv_reads_every_event_of_the_automation()
    {
        var (moves, file) = Automation();
        var lines = Run(file, "midicsv").Split('\n');
        Assert.Equal(2 * moves.Moves.Count, lines.Count(line => line.Contains(", Control_c, ", StringComparison.Ordinal)));
        Assert.Equal(3, lines.Count(line => line.Contains(", Title_t, ", StringComparison.Ordinal)));
        Assert.Contains(lines, line => line.Contains("Marker_t, \"C\"", StringComparison.Ordinal));
        Assert.Contains("0, 0, Header, 1, 3, 960", lines[0], StringComparison.Ordinal);
        Assert.Equal("0, 0, End_of_file", lines.Last(line => line.Length > 0).TrimEnd());
    }

    // mido 1.2.10 (Debian): plays the tracks merged, by its own tempo arithmetic; when each control change is due, within a tick of ours.
    [Fact]
    public void Mido_plays_every_move_when_it_is_due()
    {
        var (moves, file) = Automation();
        const string script = """
            import sys, mido
            at = 0.0
            for m in mido.MidiFile(sys.argv[1]):
                at += m.time
                if m.type == 'control_change' and m.control >= 32: print('%.6f %d %d' % (at, m.control - 32, m.value))
            """;
        var played = Run(file, "/usr/bin/python3", "-c", script).Split('\n', StringSplitOptions.RemoveEmptyEntries)
            .Select(line => line.Split(' ')).Select(part => (At: double.Parse(part[0], CultureInfo.InvariantCulture), Control: int.Parse(part[1], CultureInfo.InvariantCulture))).ToList();
        foreach (var strip in (int[])[1, 2])
        {
            var ours = moves.Moves.Where(move => move.Source.Strip == strip).ToList();
            var theirs = played.Where(one => one.Control == strip - 1).ToList();
            Assert.Equal(ours.Count, theirs.Count);
            Assert.All(ours.Zip(theirs), pair => Assert.Equal(pair.First.At.Value, pair.Second.At, 0.0012));
        }
    }

    private static (DeskMoves Moves, byte[] File) Automation()
    {
        var plain = Pieces.Of(Bent, (20, Meter.Common));
        var timeline = new Timeline(plain.Bars, [new PlayedLetter("C", 3)], Bent);
        var moves = DeskMoves.Of(timeline, Pieces.Plan(2), [Pieces.Ride(1, (0, -40), (20, 0), (40, null), (80, null)), Pieces.Ride(2, (0, -3), (12, -30), (80, 5))], Pieces.Midi());
        return (moves, MidiAutomation.Of(moves, timeline, "Night").Bytes.ToArray());
    }

    private static string Run(byte[] file, string program, params string[] arguments)
    {
        Assert.SkipUnless(Environment.GetEnvironmentVariable("MIXSCORE_OUTSIDE") == "1", "needs other programs; tests/run runs it");
        var path = Path.Combine(Path.GetTempPath(), $"{Guid.NewGuid():N}.mid");
        System.IO.File.WriteAllBytes(path, file);
        try
        {
            using var process = Process.Start(new ProcessStartInfo(program, [.. arguments, path]) { RedirectStandardOutput = true, RedirectStandardError = true })!;
            var errors = process.StandardError.ReadToEndAsync();
            var output = process.StandardOutput.ReadToEnd();
            process.WaitForExit();
            Assert.True(process.ExitCode == 0, errors.Result);
            return output;
        }
        finally
        {
            System.IO.File.Delete(path);
        }
    }
}
