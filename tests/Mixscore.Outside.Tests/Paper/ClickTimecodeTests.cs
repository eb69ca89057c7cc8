using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using System.Text.Json;
using Mixscore.Audio;
using Mixscore.Outside.Tests.Wire;

namespace Mixscore.Outside.Tests.Paper;

/// <summary>libltc reads the timecode beside the click of our own piece; its times are those of write.json and of the click.</summary>
public sealed class ClickTimecodeTests : IDisposable
{
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore").FullName;

    [Theory]
    [InlineData("25", 25, "01:00:00:00", "01:00:10:00", 10)]
    [InlineData("24", 24, "00:59:50:00", "01:00:00:12", 10.5)]
    [InlineData("30df", 30000.0 / 1001, "00:59:59;00", "01:00:00;00", 1.001)]
    public void A_label_stands_at_its_time(string rate, double fps, string atStart, string label, double seconds)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        LayOut();
        var written = Outside.Mixscore("write", _folder, "--only", "click", "--ltc", rate, "--ltc-at", atStart);
        Assert.True(written.Code == 0, written.Error);
        var lead = JsonDocument.Parse(File.ReadAllText(Path.Combine(_folder, "out", "write.json"))).RootElement.GetProperty("leadSeconds").GetDouble();
        var times = Decode(fps);
        // libltc tells where a frame begins from the edges that it saw: to within a few samples.
        Assert.Equal(lead, times[atStart] / (double)ClickTrack.SampleRate, 0.0002);
        Assert.Equal(lead + seconds, times[label] / (double)ClickTrack.SampleRate, 0.0002);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    /// <summary>The piece without its stems: the click needs none.</summary>
    private void LayOut()
    {
        var root = Path.Combine(Outside.Sources, "..", "..");
        var plan = File.ReadAllText(Path.Combine(root, "examples", "night-ferry.mix.yaml"));
        File.WriteAllText(Path.Combine(_folder, "night-ferry.mix.yaml"), plan.Replace("../scores/", "", StringComparison.Ordinal));
        File.Copy(Path.Combine(root, "scores", "night-ferry.musicxml"), Path.Combine(_folder, "night-ferry.musicxml"));
    }

    private Dictionary<string, long> Decode(double fps)
    {
        using var reader = StemFile.Read(Path.Combine(_folder, "out", "click.wav")).Open();
        var both = new float[2 * Math.Min(reader.File.Frames, 40L * ClickTrack.SampleRate)];
        Assert.Equal(both.Length, reader.Read(both));
        var timecode = both.Where((_, i) => i % 2 == 1).ToArray();
        var (code, output, error) = Outside.RunWith(MemoryMarshal.AsBytes(timecode.AsSpan()).ToArray(), LtcPeer.Compile(_folder), "times", $"{ClickTrack.SampleRate}", fps.ToString("0.00", CultureInfo.InvariantCulture));
        Assert.True(code == 0, error);
        return Encoding.ASCII.GetString(output).Split('\n', StringSplitOptions.RemoveEmptyEntries).Select(line => line.Split(' '))
            .ToDictionary(fields => fields[0], fields => long.Parse(fields[1], CultureInfo.InvariantCulture));
    }
}
