using System.Globalization;
using System.Text.Json;

namespace Mixscore.Outside.Tests;

/// <summary>midicsv reads the automation file; its tempo map and controllers are compared with rides.json, read from their contracts alone.</summary>
public class AutomationTests(DemoRun demo)
{
    [Fact]
    public void The_tempo_map_brings_every_vertex_to_its_second()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var (division, tempi, _) = Read();
        foreach (var vertex in Vertices())
        {
            var tick = Quarters(vertex.GetProperty("quarters").GetString()!) * division;
            Assert.Equal(vertex.GetProperty("seconds").GetDouble(), SecondsAt(tick, division, tempi), 0.001);
        }
    }

    [Fact]
    public void The_controllers_follow_the_rides_within_a_quarter_of_a_decibel()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var (division, tempi, controls) = Read();
        double[][] law = [[-60, 800], [-30, 4096], [-10, 8192], [0, 12288], [10, 16383]];   // examples/hall-midi.desk.yaml
        var delays = new Dictionary<string, double> { ["north"] = 0.038, ["middle"] = 0.021, ["south"] = 0.054 };
        var sources = demo.Json("out", "rides.json").GetProperty("sources").EnumerateArray().ToArray();
        for (var strip = 0; strip < sources.Length; strip++)
        {
            var site = sources[strip].GetProperty("source").GetString()!.Split('.')[0];
            var high = controls.Where(control => control.Number == strip).ToArray();
            var low = controls.Where(control => control.Number == strip + 32).ToArray();
            Assert.Equal(high.Length, low.Length);
            var moves = high.Zip(low, (h, l) => (At: SecondsAt(h.Tick, division, tempi) - delays[site], Value: (h.Value << 7) + l.Value)).ToArray();
            var vertices = sources[strip].GetProperty("vertices").EnumerateArray().Select(vertex => (At: vertex.GetProperty("seconds").GetDouble(), Gain: vertex.GetProperty("db") is { ValueKind: JsonValueKind.Number } db ? db.GetDouble() : (double?)null)).ToArray();
            for (var i = 0; i < vertices.Length; i++)
            {
                // Changes stand on ticks, up to a millisecond late. At an off vertex from which the ride rises, the fader is off until then.
                var rises = vertices[i].Gain is null && i + 1 < vertices.Length && vertices[i + 1].Gain is not null;
                // Where it is off for an instant only, between a fall and a rise, no moment is long enough to look at.
                if (rises && (i == 0 || vertices[i - 1].Gain is not null)) continue;
                var held = moves.Last(move => move.At <= vertices[i].At + (rises ? -0.002 : 0.002)).Value;
                if (vertices[i].Gain is not { } gain) Assert.Equal(0, held);
                else Assert.Equal(gain, Gain(held, law), 0.25);
            }
            // Halfway between two vertices the fader stands between them; how closely it follows is a property test of the desk's own.
            for (var i = 1; i < vertices.Length; i++)
            {
                if (vertices[i].Gain is not { } to || vertices[i - 1].Gain is not { } from || vertices[i].At - vertices[i - 1].At > 8) continue;
                var middle = (vertices[i].At + vertices[i - 1].At) / 2;
                var held = Gain(moves.Last(move => move.At <= middle).Value, law);
                Assert.InRange(held, Math.Min(from, to) - 0.25, Math.Max(from, to) + 0.25);
            }
        }
    }

    [Fact]
    public void Letters_stand_as_markers_where_the_timeline_has_them()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var read = JsonDocument.Parse(Outside.Mixscore("read", demo.PathOf(), "--json").Output).RootElement;
        var lines = Lines();
        var division = int.Parse(lines[0].Split(", ")[5], CultureInfo.InvariantCulture);
        var markers = lines.Where(line => line.Contains("Marker_t")).Select(line => line.Split(", ")).ToDictionary(fields => fields[3].Trim('"'), fields => double.Parse(fields[1], CultureInfo.InvariantCulture) / division);
        var played = read.GetProperty("played");
        foreach (var letter in read.GetProperty("letters").EnumerateArray())
            Assert.Equal(Quarters(played[letter.GetProperty("index").GetInt32() - 1].GetProperty("startQuarters").GetString()!), markers[letter.GetProperty("name").GetString()!], 1e-9);
    }

    private string[] Lines()
    {
        var ended = Outside.Run("midicsv", demo.PathOf("out", "automation.mid"));
        Assert.Equal(0, ended.Code);
        return ended.Output.Split('\n', StringSplitOptions.RemoveEmptyEntries);
    }

    private (int Division, List<(long Tick, double Microseconds)> Tempi, List<(long Tick, int Number, int Value)> Controls) Read()
    {
        var (division, tempi, controls) = (0, new List<(long, double)>(), new List<(long, int, int)>());
        foreach (var fields in Lines().Select(line => line.Split(", ")))
            switch (fields[2])
            {
                case "Header":
                    division = int.Parse(fields[5], CultureInfo.InvariantCulture);
                    break;
                case "Tempo":
                    tempi.Add((long.Parse(fields[1], CultureInfo.InvariantCulture), double.Parse(fields[3], CultureInfo.InvariantCulture)));
                    break;
                case "Control_c":
                    controls.Add((long.Parse(fields[1], CultureInfo.InvariantCulture), int.Parse(fields[4], CultureInfo.InvariantCulture), int.Parse(fields[5], CultureInfo.InvariantCulture)));
                    break;
            }
        return (division, tempi, controls);
    }

    private IEnumerable<JsonElement> Vertices() =>
        demo.Json("out", "rides.json").GetProperty("sources").EnumerateArray().SelectMany(source => source.GetProperty("vertices").EnumerateArray());

    private static double Quarters(string fraction)
    {
        var terms = fraction.Split('/').Select(term => double.Parse(term, CultureInfo.InvariantCulture)).ToArray();
        return terms.Length == 1 ? terms[0] : terms[0] / terms[1];
    }

    // Standard MIDI Files 1.0: microseconds a quarter hold until the next event; 500,000 until the first.
    private static double SecondsAt(double tick, int division, List<(long Tick, double Microseconds)> tempi)
    {
        var (seconds, at, tempo) = (0.0, 0.0, 500_000.0);
        foreach (var (from, microseconds) in tempi)
        {
            if (from >= tick) break;
            seconds += (from - at) / division * tempo / 1e6;
            (at, tempo) = (from, microseconds);
        }
        return seconds + (tick - at) / division * tempo / 1e6;
    }

    private static double Gain(int value, double[][] law)
    {
        for (var i = 1; i < law.Length; i++)
            if (value <= law[i][1]) return law[i - 1][0] + (value - law[i - 1][1]) / (law[i][1] - law[i - 1][1]) * (law[i][0] - law[i - 1][0]);
        return law[^1][0];
    }
}
