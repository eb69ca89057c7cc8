using CsCheck;
using Mixscore.Protocols.Osc;

namespace Mixscore.Live.Tests.Control;

public class ControlMessageTests
{
    private static readonly string[] Words = ["start", "stop", "stay", "release", "jump", "take", "move", "back", "offset", "hold", "allback", "arm", "disarm", "mark", "link", "clock", "watch", "", "nothing"];

    private static Gen<T> OneOf<T>(params T[] all) => Gen.Int[0, all.Length - 1].Select(i => all[i]);

    private static readonly Gen<OscArgument> Argument = Gen.OneOf(
        OneOf("north.voice", "north", "all", "3:2", "end", "still", "", "ü 漢").Select(OscArgument.Of),
        OneOf(double.NaN, double.PositiveInfinity, double.NegativeInfinity, double.MaxValue, double.MinValue, -0.0, 1e-320, 1e9).Select(OscArgument.Of),
        Gen.Double.Select(OscArgument.Of),
        Gen.Int.Select(OscArgument.Of));

    // Anyone on the network may send anything: what is obeyed never makes a tick fail, and what is not is answered.
    [Fact]
    public void Nothing_that_comes_over_the_wire_stops_the_run() =>
        Gen.Select(OneOf(Words), Argument.Array[0, 3]).Array[1, 30].Select(Gen.Bool).Sample((messages, isOutside) =>
        {
            var run = new LiveRun(Pieces.Three(), isOutside ? new ChaseClock() : new OwnClick(), [new RunDesk(Pieces.Osc, [1, 2, 3], _ => true)]);
            var (events, tick) = (new List<RunEvent>(), 0);
            foreach (var (word, arguments) in messages)
            {
                events.Clear();
                var problem = ControlMessage.Read(ControlMessage.Root + word, arguments, run.Plan, TimeSpan.FromMilliseconds(20 * tick), events);
                Assert.NotEqual("", problem);
                foreach (var posted in events) Assert.True(run.Post(posted));
                run.Tick(TimeSpan.FromMilliseconds(20 * tick++));
            }
            Assert.All(run.View.Look().Sources, source => Assert.InRange(source.Gain?.Value ?? -60, -60, 10));
        }, iter: 3000);

    [Fact]
    public void Beats_without_end_are_refused() => Assert.Throws<ArgumentOutOfRangeException>(() => RunEvent.Back(0, double.NaN));
}
