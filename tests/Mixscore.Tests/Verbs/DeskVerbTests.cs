using System.Net;
using System.Net.Sockets;
using System.Text.Json;
using Mixscore.Protocols.Osc;

namespace Mixscore.Tests.Verbs;

public class DeskVerbTests
{
    private static readonly string Osc = Repository.PathOf("examples", "hall-osc.desk.yaml");
    private static readonly string Midi = Repository.PathOf("examples", "hall-midi.desk.yaml");

    [Fact]
    public async Task The_law_is_shown_as_a_table_and_a_picture()
    {
        var ended = await SmallProject.Run("desk", Midi);
        Assert.Equal(0, ended.Code);
        Assert.Contains("12288", ended.Output);
        Assert.Contains("●", ended.Output);
        // Derived: from 800 to 16383, both counted.
        Assert.Contains("15584 numbers", ended.Output);
    }

    // Derived: 30 dB over 3296 numbers, 20 over 4096, 10 over 4096, 10 over 4095; half of the widest is the worst rounding.
    [Fact]
    public async Task The_figures_come_as_json()
    {
        var ended = await SmallProject.Run("desk", Midi, "--json");
        var desk = JsonDocument.Parse(ended.Output).RootElement[0];
        Assert.Equal(30.0 / 3296, desk.GetProperty("coarsestStep").GetDouble(), 1e-8);
        Assert.Equal(15.0 / 3296, desk.GetProperty("worstRounding").GetDouble(), 1e-8);
        Assert.Equal(("midi", 15584), (desk.GetProperty("protocol").GetString(), desk.GetProperty("places").GetInt32()));
        Assert.All(desk.GetProperty("law").EnumerateArray(), row => Assert.Equal(row.GetProperty("db").GetDouble(), row.GetProperty("back").GetDouble(), row.GetProperty("step").GetDouble() / 2 + 1e-8));
    }

    [Fact]
    public async Task A_strip_is_not_moved_without_being_asked_for()
    {
        var ended = await SmallProject.Run("desk", Osc, "--try", "3");
        Assert.Equal(2, ended.Code);
        Assert.Contains("--yes", ended.Error);
        Assert.Equal(2, (await SmallProject.Run("desk", Osc, "--try", "0", "--yes")).Code);
    }

    [Fact]
    public async Task With_yes_one_strip_moves_down_and_up_and_never_above_minus_20()
    {
        using var desk = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        using var map = new TemporaryMap(Osc, ((IPEndPoint)desk.Client.LocalEndPoint!).Port);
        var ended = await SmallProject.Run("desk", map.Path, "--try", "3", "--yes");
        Assert.True(ended.Code == 0, ended.Error);
        var values = new List<double>();
        while (desk.Available > 0)
        {
            IPEndPoint? from = null;
            Assert.True(OscCodec.TryDecode(desk.Receive(ref from), out var packet, out _));
            var message = (OscMessage)((OscBundle)packet).Elements.Single();
            Assert.Equal("/strip/3/fader", message.Address);
            values.Add(message.Arguments[0].AsFloat32());
        }
        // The example's law: -30 dB is 0.25, -20 dB is 0.375.
        Assert.True(values.Count > 10 && values.Max() <= 0.375 && values.Min() < values[0] && values[^1] == values[0]);
    }
}

/// <summary>A desk map of the examples at a port of this machine.</summary>
internal sealed class TemporaryMap : IDisposable
{
    internal TemporaryMap(string example, int to, int? listen = null) => File.WriteAllText(Path, string.Concat(File.ReadLines(example)
        .Where(line => listen is not null || !line.StartsWith("listen", StringComparison.Ordinal))
        .Select(line => line.Replace(":9000", $":{to}", StringComparison.Ordinal).Replace(":5004", $":{to}", StringComparison.Ordinal).Replace(":9001", $":{listen}", StringComparison.Ordinal) + "\n")));

    internal string Path { get; } = System.IO.Path.Combine(System.IO.Path.GetTempPath(), $"mixscore-{Guid.NewGuid():n}.desk.yaml");

    public void Dispose() => File.Delete(Path);
}
