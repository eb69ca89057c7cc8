using System.Globalization;
using System.Runtime.InteropServices;
using System.Text;
using Mixscore.Protocols.Ltc;
using Mixscore.Protocols.Midi;

namespace Mixscore.Outside.Tests.Wire;

/// <summary>libltc 1.3 (Debian), through a program compiled here: it reads the timecode that we write, and we read its.</summary>
public sealed class LtcPeerTests : IDisposable
{
    private const int Rate = 48000;
    private const int Frames = 60;
    private const double Quiet = -30;
    private readonly string _folder = Directory.CreateTempSubdirectory("mixscore").FullName;

    // Speeds are made by writing at another sampling rate than is read.
    public static TheoryData<TimecodeRate, double, bool> Tapes
    {
        get
        {
            var tapes = new TheoryData<TimecodeRate, double, bool>();
            foreach (var rate in Enum.GetValues<TimecodeRate>())
                foreach (var speed in (double[])[0.5, 1, 2])
                    foreach (var noisy in (bool[])[false, true]) tapes.Add(rate, speed, noisy);
            return tapes;
        }
    }

    [Theory, MemberData(nameof(Tapes))]
    public void Libltc_reads_what_we_write(TimecodeRate rate, double speed, bool noisy)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var (start, write) = (Start(rate), (int)(2 * Rate / speed));
        // Written at twice the rate and read at half of it, so that no rate is below what either end takes.
        var samples = new float[(int)((Frames + 1) * write / Timecode.FramesPerSecond(rate))];
        new LtcWriter(start, write, noisy ? (float)Math.Pow(10, Quiet / 20) : 0.5f).Fill(samples);
        if (noisy) AddNoise(samples);
        var (code, output, error) = Outside.RunWith(MemoryMarshal.AsBytes(samples.AsSpan()).ToArray(), Peer(), "read", $"{2 * Rate}", Fps(rate));
        Assert.True(code == 0, error);
        AssertLabels(start, [.. Encoding.ASCII.GetString(output).Split('\n', StringSplitOptions.RemoveEmptyEntries)]);
    }

    [Theory, MemberData(nameof(Tapes))]
    public void We_read_what_libltc_writes(TimecodeRate rate, double speed, bool noisy)
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var (start, write) = (Start(rate), (int)(2 * Rate / speed));
        var (code, output, error) = Outside.RunWith([], Peer(), "write", $"{write}", Fps(rate), rate == TimecodeRate.Frames30Drop ? "1" : "0",
            $"{start.Hours}", $"{start.Minutes}", $"{start.Seconds}", $"{start.Frames}", $"{Frames}");
        Assert.True(code == 0, error);
        var samples = MemoryMarshal.Cast<byte, float>(output).ToArray();
        var loudest = samples.Max(Math.Abs);
        var level = noisy ? Math.Pow(10, Quiet / 20) / loudest : 1;
        for (var i = 0; i < samples.Length; i++) samples[i] = (float)(samples[i] * level);
        if (noisy) AddNoise(samples);
        var labels = new List<string>();
        ReadOnlySpan<float> input = samples;
        for (var reader = new LtcReader(2 * Rate, rate); reader.Read(ref input, out var reading);) labels.Add($"{reading.Label}");
        AssertLabels(start, labels);
    }

    public void Dispose() => Directory.Delete(_folder, recursive: true);

    // All but the frames at the edges, which a reader spends on finding the speed: no label missing or wrong between.
    private static void AssertLabels(Timecode start, List<string> labels)
    {
        Assert.InRange(labels.Count, Frames - 4, Frames + 1);
        var first = Enumerable.Range(0, 5).First(frame => $"{start.Plus(frame)}" == labels[0]);
        Assert.Equal(Enumerable.Range(first, labels.Count).Select(frame => $"{start.Plus(frame)}"), labels);
    }

    // White noise 20 dB below the timecode.
    private static void AddNoise(float[] samples)
    {
        var random = new Random(30);
        var height = Math.Pow(10, (Quiet - 20) / 20) * Math.Sqrt(3);
        for (var i = 0; i < samples.Length; i++) samples[i] += (float)(((2 * random.NextDouble()) - 1) * height);
    }

    // Over a minute's beginning, where drop-frame leaves out two labels.
    private static Timecode Start(TimecodeRate rate) => new(rate, 1, 8, 59, 10);

    private static string Fps(TimecodeRate rate) => Timecode.FramesPerSecond(rate).ToString("0.00", CultureInfo.InvariantCulture);

    private string Peer() => LtcPeer.Compile(_folder);
}
