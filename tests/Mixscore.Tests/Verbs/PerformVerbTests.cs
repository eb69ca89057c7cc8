using System.IO.Pipelines;
using System.Net;
using System.Net.Sockets;
using Mixscore.Screen;

namespace Mixscore.Tests.Verbs;

public class PerformVerbTests
{
    // As a person has it, in real time and by words: nothing is sent before it is armed; then the desk moves, a hand is obeyed, and the
    // log tells it all.
    [Fact]
    public async Task It_performs_by_words_and_keeps_a_log()
    {
        using var project = new SmallProject();
        using var desk = new UdpClient(new IPEndPoint(IPAddress.Loopback, 0));
        var map = Map(project, ((IPEndPoint)desk.Client.LocalEndPoint!).Port);
        await using var night = new Night("perform", project.Folder, "--desk", map, "--no-page", "--count-in", "0");
        await night.Says("arm, disarm");
        Assert.Equal(0, desk.Available);
        await night.Write("arm");
        await night.Says("armed");
        await night.Write("start 3", "take near.voice -30", "mark too loud", "dance");
        await night.Says("\"dance\" is not known");
        await night.Says("near.voice taken at -30.0 dB");
        Assert.True(desk.Available > 0);
        await night.Write("quit");
        Assert.Equal(0, await night.Ended);
        Assert.Contains("The faders stay where they are", night.Output, StringComparison.Ordinal);
        var told = await SmallProject.Run("log", project.Folder);
        Assert.Equal(0, told.Code);
        Assert.Contains("Bar 3", told.Output, StringComparison.Ordinal);
        Assert.Contains("near.voice taken at -30.0 dB", told.Output, StringComparison.Ordinal);
        Assert.Contains("mark: too loud", told.Output, StringComparison.Ordinal);
        Assert.Contains("Taken: near.voice once", told.Output, StringComparison.Ordinal);
        var json = (await SmallProject.Run("log", project.Folder, "--json")).Output;
        Assert.Contains("\"hands\"", json, StringComparison.Ordinal);

        // And it goes on from there: the voice is still in hand.
        await using var again = new Night("perform", project.Folder, "--desk", map, "--no-page", "--resume");
        await again.Says("the run was taken up again", "arm, disarm");
        await again.Write("back near.voice", "quit");
        Assert.Equal(0, await again.Ended);
        Assert.Contains("near.voice handed back", (await SmallProject.Run("log", project.Folder)).Output, StringComparison.Ordinal);
    }

    [Fact]
    public async Task A_folder_that_takes_no_log_does_not_stop_the_night()
    {
        using var project = new SmallProject();
        File.WriteAllText(project.PathOf("log"), "in the way");
        await using var night = new Night("perform", project.Folder, "--desk", Map(project, 9), "--no-page");
        await night.Says("the log is in ");
        await night.Write("quit");
        Assert.Equal(0, await night.Ended);
    }

    // With the page: its address is said, for the network with the pass phrase and as a code; without stems it is there, too.
    [Fact]
    public async Task The_page_is_served_beside_the_run()
    {
        using var project = new SmallProject();
        await using var night = new Night("perform", project.Folder, "--desk", Map(project, 9), "--no-open", "--listen", "127.0.0.2", "--pass-phrase", "four tall ferries");
        await night.Says("page: http://127.0.0.1:");
        await night.Says("pass=four%20tall%20ferries");
        await night.Says("\u2580", "\u2584", "\u2588");
        using var browser = new HttpClient();
        var address = night.Output.Split('\n').First(line => line.StartsWith("page: ", StringComparison.Ordinal))["page: ".Length..].Trim();
        Assert.Contains("\"mode\":\"perform\"", await browser.GetStringAsync(new Uri(address + "project.json"), TestContext.Current.CancellationToken), StringComparison.Ordinal);
        await night.Write("quit");
        Assert.Equal(0, await night.Ended);
    }

    public static TheoryData<string, string[]> Wrong => new()
    {
        { "MX406", ["--clock", "sundial"] },
        { "MX406", ["--clock", "ltc"] },
        { "MX406", ["--clock", "osc"] },
        { "MX406", ["--clock", "mtc", "--clock-from", "udp://127.0.0.1:1"] },
        { "MX405", ["--clock", "mtc"] },
        { "MX406", ["--zero", "25:00"] },
        { "MX406", ["--control", "tcp://127.0.0.1:1"] },
        { "MX406", ["--count-in", "99"] },
        { "MX403", ["--resume"] },
        { "MX501", ["--port", "70000"] },
        { "MX501", ["--listen", "somewhere"] },
        { "MX501", ["--listen", "127.0.0.2", "--pass-phrase", "short"] },
        { "MX501", ["--pass-phrase", "long enough, but for nobody"] },
    };

    [Theory, MemberData(nameof(Wrong))]
    public async Task What_cannot_be_is_told_with_a_remedy(string code, string[] more)
    {
        using var project = new SmallProject();
        var ended = await SmallProject.Run(["perform", project.Folder, "--desk", Map(project, 9), "--no-page", .. more]);
        Assert.Equal(2, ended.Code);
        Assert.Contains(code, ended.Error, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", ended.Error, StringComparison.Ordinal);
    }

    private static string Map(SmallProject project, int port)
    {
        var path = project.PathOf("hall.desk.yaml");
        File.WriteAllText(path, File.ReadAllText(project.PathOf("osc.desk.yaml")).Replace(":9000", $":{port}", StringComparison.Ordinal));
        return path;
    }

    /// <summary>A verb that runs, with someone who writes to it and reads what it says.</summary>
    private sealed class Night : IAsyncDisposable
    {
        private readonly Pipe _script = new();
        private readonly StreamWriter _orders;
        private readonly StringWriter _output = new();
        private readonly StringWriter _error = new();
        private readonly CancellationTokenSource _stop = new(TimeSpan.FromSeconds(60));

        internal Night(params string[] arguments)
        {
            _orders = new StreamWriter(_script.Writer.AsStream()) { AutoFlush = true };
            var terminal = Terminal.Of(TextWriter.Synchronized(_output), TextWriter.Synchronized(_error), new StreamReader(_script.Reader.AsStream()));
            Ended = Task.Run(() => CommandLine.RunAsync(arguments, terminal, _stop.Token));
        }

        internal Task<int> Ended { get; }

        internal string Output => _output.ToString();

        internal async Task Write(params string[] lines)
        {
            foreach (var line in lines) await _orders.WriteLineAsync(line);
        }

        internal async Task Says(params string[] words)
        {
            for (var tries = 0; !words.Any(word => Output.Contains(word, StringComparison.Ordinal)); tries++)
            {
                Assert.False(Ended.IsCompleted || tries > 1000, $"it did not say {string.Join(" or ", words)}, but: {Output}{_error}");
                await Task.Delay(20, TestContext.Current.CancellationToken);
            }
        }

        public async ValueTask DisposeAsync()
        {
            await _stop.CancelAsync();
            await Ended;
            await _orders.DisposeAsync();
            _stop.Dispose();
        }
    }
}
