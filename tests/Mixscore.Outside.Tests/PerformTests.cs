using System.Diagnostics;
using System.Net;
using Mixscore.Desk;
using Mixscore.Live;
using Mixscore.Planning;
using Mixscore.Protocols.Osc;
using Mixscore.Protocols.Transports;
using Mixscore.Score;

namespace Mixscore.Outside.Tests;

/// <summary>The demo performed: in virtual time against a desk to practise on, and by the program itself in real time.</summary>
public sealed class PerformTests(DemoRun demo)
{
    // Every fader at every tick of the whole piece: within half a step of the wire's resolution of its ride, each at its own link's delay.
    [Fact]
    public void The_whole_demo_leaves_every_fader_on_its_ride()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        var onScore = PlanOnScore.Open(demo.PathOf("night-ferry.mix.yaml"));
        var rides = RidesFile.Read(demo.PathOf("out", "rides.json")).ToDictionary(source => source.Source, source => source.Ride);
        var plan = LivePlan.Of(onScore, [.. onScore.Plan.Sources.Select(source => rides[source.Name])]);
        foreach (var map in new[] { "hall-osc", "hall-midi" }.Select(name => DeskMapReader.Read(demo.PathOf(name + ".desk.yaml"))[0]))
        {
            var (now, practice) = (TimeSpan.Zero, new PracticeDesk(map, new PracticeHabits()));
            var (due, tempo, law) = (new List<StripValue>(), plan.Timeline.Tempo, map.Fader.Law);
            var desk = new RunDesk(map, [.. plan.Sources.Select(source => source.Source.Strip)], values =>
            {
                foreach (var value in values) practice.Take(value, now);
                return true;
            });
            var run = new LiveRun(plan, new OwnClick(), [desk], new RunSettings { CountInBars = 0 });
            run.Post(RunEvent.Arm);
            long compared = 0;
            for (var tick = 0L; ; tick++)
            {
                now = TimeSpan.FromMilliseconds(20 * tick);
                // Ten seconds for the faders to glide to where the piece begins.
                if (tick == 500) run.Post(RunEvent.Start());
                practice.Tick(now, due);
                due.ForEach(value => run.Post(RunEvent.Desk(0, value)));
                due.Clear();
                run.Tick(now);
                if (tick < 500) continue;
                var at = (20 * (tick - 500)) / 1000.0;
                if (at > plan.Timeline.Duration.Value) break;
                Assert.Equal(at, run.View.Look().At.Value, 6);
                foreach (var source in plan.Sources)
                {
                    var wanted = source.Ride.At(tempo.QuartersAt(new Seconds(Math.Max(0, at - source.Source.Site.Link.Delay.Value))));
                    var stands = law.ToGain(law.Sent(run.View.Look().Sources[plan.Find(source.Source.Name)[0]].Gain));
                    var half = wanted is { } gain && gain >= law.Lowest ? law.StepAt(gain).Value / 2 : 0;
                    // The desk's own places are coarser than the wire.
                    Assert.Equal((wanted ?? law.Lowest).Value, (stands ?? law.Lowest).Value, half + 1e-5);
                    var place = Math.Abs(law.ToValue(law.Highest) - law.Off) / (new PracticeHabits().Places - 1);
                    var shows = practice.GainOf(source.Source.Strip);
                    // Its place next below the law's softest point is shut.
                    if (shows is not null || law.ToValue(wanted) > law.ToValue(law.Lowest) + place)
                        Assert.Equal(law.ToValue(wanted), law.ToValue(shows), (place / 2) + (law.Number == WireNumber.Whole ? 1 : 1e-6));
                    compared++;
                }
            }
            Assert.True(compared > 100_000);
        }
    }

    // Killed at fifty instants and taken up each time: within a second it says where it is, with every hand and offset as it was, as if
    // the click had kept running; and the log is whole.
    [Fact]
    public void Killed_at_any_instant_it_goes_on_where_the_click_is()
    {
        Assert.SkipUnless(Outside.IsWanted, Outside.Why);
        const int Kills = 50;
        using var project = new Copy(demo);
        using var watcher = new Watcher(Outside.FreePort());
        var (chance, returns) = (new Random(11), new List<double>());
        var run = Perform(project, watcher, "--arm");
        try
        {
            Assert.True(watcher.Wait(TimeSpan.FromSeconds(20)));
            watcher.Send(new OscMessage("/mixscore/start", "40"));
            Assert.True(SpinWait.SpinUntil(() => watcher.Seconds > 0, TimeSpan.FromSeconds(5)));
            var (hands, ahead) = (new Dictionary<string, float>(), double.NaN);
            for (var kill = 0; kill < Kills; kill++)
            {
                var source = "north.horn north.voice middle.engine south.cello".Split(' ')[kill % 4];
                hands[source] = -5 - chance.Next(30);
                watcher.Send(new OscMessage("/mixscore/take", source, hands[source]));
                watcher.Send(new OscMessage("/mixscore/offset", "south.voice", (float)(kill % 5)));
                Assert.True(SpinWait.SpinUntil(() => watcher.Holder(source) == "in hand" && Math.Abs(watcher.Db(source) - hands[source]) < 1e-3, TimeSpan.FromSeconds(5)), "it was not taken");
                // What the last 200 ms brought may be lost by design.
                Thread.Sleep(260 + chance.Next(200));
                // A machine with much to do tells late: the telling that came soonest says where the click is.
                if (double.IsNaN(ahead)) ahead = watcher.Ahead;
                else Assert.InRange(watcher.Ahead - ahead, -0.15, 0.15);
                var clock = Stopwatch.StartNew();
                run.Kill();
                watcher.Forget();
                var began = clock.Elapsed;
                run = Perform(project, watcher, "--resume");
                Assert.True(watcher.Wait(TimeSpan.FromSeconds(20)), "it did not come back");
                var (back, at) = (clock.Elapsed, watcher.Seconds);
                returns.Add((back - began).TotalSeconds);
                // It answers at once; between that and now lies what the machine needs.
                Assert.InRange(at - watcher.Elapsed - ahead, -0.6, 0.15);
                Assert.True(watcher.WaitForSources(9, TimeSpan.FromSeconds(5)));
                foreach (var (name, db) in hands) Assert.Equal(("in hand", db), (watcher.Holder(name), (float)Math.Round(watcher.Db(name), 3)));
            }
            // How long depends on who else uses the machine: told, not judged.
            returns.Sort();
            TestContext.Current.SendDiagnosticMessage($"back after {returns[Kills / 2]:0.00} s at the median, {returns[^1]:0.00} s at the latest");
        }
        finally
        {
            run.Dispose();
        }
        var night = Night.Read(Directory.GetFiles(Path.Combine(project.Folder, "log")).Single());
        Assert.Empty(night.Broken);
        Assert.Equal(Kills, night.Lines.Count(line => line.Kind == LogKind.Resume));
        Assert.Equal(4, night.Lines.Count(line => line.Kind == LogKind.Take));
        var told = Outside.Mixscore("log", Path.Combine(project.Folder, "log", Path.GetFileName(night.Path)));
        Assert.Equal(0, told.Code);
        Assert.Contains("north.horn taken at", told.Output, StringComparison.Ordinal);
    }

    private static Outside.Running Perform(Copy project, Watcher watcher, params string[] more) => new("dotnet", [
        Path.Combine(AppContext.BaseDirectory, "mixscore.dll"), "perform", project.Folder, "--desk", Path.Combine(project.Folder, "hall-osc.desk.yaml"),
        "--no-page", "--count-in", "0", "--control", $"udp://127.0.0.1:{watcher.Port}", .. more]);

    /// <summary>The demo's plan, score, rides and maps in a folder of its own, the map at ports of its own.</summary>
    internal sealed class Copy : IDisposable
    {
        internal Copy(DemoRun demo)
        {
            Directory.CreateDirectory(Path.Combine(Folder, "out"));
            foreach (var file in new[] { "night-ferry.mix.yaml", "night-ferry.musicxml", "mix.schema.json", "desk.schema.json" }) File.Copy(demo.PathOf(file), Path.Combine(Folder, file));
            foreach (var file in new[] { "rides.json", "measure.json" }) File.Copy(demo.PathOf("out", file), Path.Combine(Folder, "out", file));
            File.WriteAllText(Path.Combine(Folder, "hall-osc.desk.yaml"), File.ReadAllText(demo.PathOf("hall-osc.desk.yaml"))
                .Replace(":9000", $":{Outside.FreePort()}", StringComparison.Ordinal).Replace(":9001", $":{Outside.FreePort()}", StringComparison.Ordinal));
        }

        internal string Folder { get; } = Directory.CreateTempSubdirectory("mixscore-night-").FullName;

        public void Dispose() => Directory.Delete(Folder, recursive: true);
    }

    /// <summary>Asks to watch until it is answered, and keeps what it is told.</summary>
    internal sealed class Watcher : IDisposable
    {
        private readonly Dictionary<string, (string Holder, double Db)> _sources = [];
        private readonly Stopwatch _clock = Stopwatch.StartNew();
        private readonly OscUdp _udp;
        private readonly IPEndPoint _run;
        private double _seconds = double.NaN;
        private string _role = "";

        internal Watcher(int port)
        {
            (Port, _run) = (port, new IPEndPoint(IPAddress.Loopback, port));
            _udp = new OscUdp(new IPEndPoint(IPAddress.Loopback, 0), (packet, from) =>
            {
                if (!OscCodec.TryDecode(packet, out var decoded, out OscProblem _) || decoded is not OscMessage message) return;
                lock (_sources)
                {
                    if (message.Address == "/mixscore/position")
                    {
                        _seconds = message.Arguments[1].AsFloat32();
                        Ahead = Math.Max(Ahead, _seconds - Elapsed);
                    }
                    if (message.Address == "/mixscore/spare") _role = message.Arguments[0].AsText();
                    if (message.Address == "/mixscore/source") _sources[message.Arguments[0].AsText()] = (message.Arguments[1].AsText(), message.Arguments[2].AsFloat32());
                }
            });
        }

        internal int Port { get; }

        /// <summary>Since it was made, in seconds.</summary>
        internal double Elapsed => _clock.Elapsed.TotalSeconds;

        /// <summary>How far the piece was ahead of <see cref="Elapsed"/> when it was told soonest.</summary>
        internal double Ahead { get; private set; } = double.NegativeInfinity;

        internal double Seconds
        {
            get
            {
                lock (_sources) return _seconds;
            }
        }

        /// <summary>What it is of two; empty where it knows of no other.</summary>
        internal string Role
        {
            get
            {
                lock (_sources) return _role;
            }
        }

        internal void Send(OscMessage message) => _udp.Send(OscCodec.Encode(message), _run);

        internal void Forget()
        {
            lock (_sources)
            {
                (_seconds, _role, Ahead) = (double.NaN, "", double.NegativeInfinity);
                _sources.Clear();
            }
        }

        internal bool Wait(TimeSpan patience) => SpinWait.SpinUntil(() =>
        {
            Send(new OscMessage("/mixscore/watch"));
            Thread.Sleep(10);
            return !double.IsNaN(Seconds);
        }, patience);

        internal bool WaitForSources(int count, TimeSpan patience) => SpinWait.SpinUntil(() =>
        {
            lock (_sources) return _sources.Count >= count;
        }, patience);

        internal string Holder(string source)
        {
            lock (_sources) return _sources[source].Holder;
        }

        internal double Db(string source)
        {
            lock (_sources) return _sources[source].Db;
        }

        public void Dispose() => _udp.Dispose();
    }
}
