using System.Diagnostics;
using System.Globalization;
using System.Net;
using System.Net.Sockets;
using System.Runtime.InteropServices;
using System.Text;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;

// Bundles of 96 faders made and sent over UDP a second, by us and by liblo (C), turn by turn to the same sink.
const int Faders = 96;
const int Rounds = 5;
var span = TimeSpan.FromSeconds(args.Length > 0 ? double.Parse(args[0], CultureInfo.InvariantCulture) : 1.5);
using var sink = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
var to = (IPEndPoint)sink.Client.LocalEndPoint!;
var peer = Build();
using var udp = new OscUdp(new IPEndPoint(IPAddress.Loopback, 0), (_, _) => { });
var addresses = Enumerable.Range(1, Faders).Select(strip => Encoding.ASCII.GetBytes($"/strip/{strip}/fader")).ToArray();
var packet = new byte[8192];
Ours(TimeSpan.FromSeconds(1));
var (ours, theirs) = (new List<double>(), new List<double>());
for (var round = 0; round < Rounds; round++)
{
    ours.Add(Ours(span));
    theirs.Add(Theirs(span));
}
var (our, their) = (Median(ours), Median(theirs));
Console.WriteLine($"{RuntimeInformation.OSDescription}, {RuntimeInformation.ProcessArchitecture}, {Environment.ProcessorCount} cores, .NET {Environment.Version}");
Console.WriteLine(string.Create(CultureInfo.InvariantCulture, $"OSC bundles of {Faders} faders, made and sent a second: ours {our:0}, liblo {their:0}, ratio {our / their:0.00}"));
return our >= their ? 0 : 1;

double Ours(TimeSpan length)
{
    var (sent, clock) = (0L, Stopwatch.StartNew());
    do
    {
        var writer = new OscWriter(packet);
        writer.BeginBundle(OscTimeTag.Immediate);
        for (var i = 0; i < Faders; i++)
        {
            writer.BeginMessage(addresses[i], "f"u8);
            writer.Float32((sent + i) % 1000 / 1000f);
            writer.EndMessage();
        }
        writer.EndBundle();
        if (!udp.Send(writer.Written, to)) throw new IOException("a bundle could not be sent");
        sent++;
    }
    while (clock.Elapsed < length);
    return sent / clock.Elapsed.TotalSeconds;
}

double Theirs(TimeSpan length)
{
    using var process = Process.Start(new ProcessStartInfo(peer, [$"{to.Port}", length.TotalSeconds.ToString(CultureInfo.InvariantCulture)]) { RedirectStandardOutput = true })!;
    var output = process.StandardOutput.ReadToEnd();
    process.WaitForExit();
    if (process.ExitCode != 0) throw new IOException("the program of liblo failed");
    return double.Parse(output, CultureInfo.InvariantCulture);
}

static string Build()
{
    var program = Path.Combine(AppContext.BaseDirectory, "liblo-peer");
    using var gcc = Process.Start("gcc", ["-O2", "-Wall", "-o", program, Path.Combine(AppContext.BaseDirectory, "liblo.c"), "-llo"]);
    gcc.WaitForExit();
    return gcc.ExitCode == 0 ? program : throw new IOException("gcc and liblo-dev are needed for the other side");
}

static double Median(List<double> values) => values.Order().ElementAt(values.Count / 2);
