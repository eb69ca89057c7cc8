using CsCheck;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Log;

/// <summary>A run whose program is killed at any instant, and taken up from what the log has by then.</summary>
public class ResumeTests
{
    private static readonly NightHead Head = new(DateTimeOffset.UnixEpoch, "night.mix.yaml", "k", "click", [], "boot", TimeSpan.Zero);

    private static readonly Gen<(int At, int What, int Source, double Db)> Happening = Gen.Select(Gen.Int[0, 300], Gen.Int[0, 13], Gen.Int[0, 2], Gen.Double[-60, 10]);

    [Fact]
    public void Every_hand_and_offset_is_as_it_was_and_the_click_has_kept_running() =>
        Gen.Select(Happening.Array[0, 20], Gen.Int[1, 300], Gen.Int[0, 3000]).Sample((happenings, killed, gone) =>
        {
            var plan = Pieces.Three();
            var disk = new NightLogTests.Disk();
            using var log = new NightLog(plan, disk, Head, TimeSpan.Zero, ownThread: false);
            var run = new LiveRun(plan, new OwnClick(), [], new RunSettings { CountInBars = 0 }, log);
            var order = happenings.OrderBy(one => one.At).ToArray();
            for (var (tick, next) = (0, 0); tick < killed; tick++)
            {
                for (; next < order.Length && order[next].At <= tick; next++) run.Post(Event(order[next]));
                run.Tick(TimeSpan.FromMilliseconds(20 * tick));
            }
            log.Write();
            var before = run.View.Look();

            var path = Path.GetTempFileName();
            try
            {
                File.WriteAllLines(path, disk.Lines);
                var state = NightState.Of(Night.Read(path));
                var again = new LiveRun(plan, new OwnClick(), [], new RunSettings { CountInBars = 0 });
                var ago = TimeSpan.FromMilliseconds((20 * (killed - 1)) + gone);
                again.Resume(state, ago);
                again.Tick(TimeSpan.Zero);
                var after = again.View.Look();

                // The run that was not killed, as much later.
                run.Tick(ago);
                var kept = run.View.Look();
                Assert.Equal(before.IsArmed, after.IsArmed);
                Assert.Equal((kept.Phase == RunPhase.Running, kept.Stay), (after.Phase == RunPhase.Running, after.Stay));
                Assert.Equal(kept.At.Value, after.At.Value, 0.001);
                for (var i = 0; i < 3; i++)
                {
                    Assert.Equal(before.Sources[i].Offset.Value, after.Sources[i].Offset.Value, 0.001);
                    // A hand that let go before its fader had caught up with it holds on until it has; taken up again, it has let go.
                    var letsGo = order.Any(one => one.What == 12 && one.Source == i && one.At < killed && one.At > killed - 40);
                    if (!letsGo) Assert.Equal(before.Sources[i].Holder == Holder.InHand, after.Sources[i].Holder == Holder.InHand);
                    // Where the hand wanted it; a fader that was still on its way there is taken to have arrived.
                    if (!letsGo && before.Sources[i].Holder == Holder.InHand && !order.Any(one => one.At > killed - 40)) Assert.Equal(before.Sources[i].Gain?.Value ?? -99, after.Sources[i].Gain?.Value ?? -99, 0.001);
                }
            }
            finally
            {
                File.Delete(path);
            }
        }, iter: 300);

    private static RunEvent Event((int At, int What, int Source, double Db) one) => one.What switch
    {
        0 => RunEvent.Arm,
        1 => RunEvent.Disarm,
        2 or 3 or 4 => RunEvent.Start(new Seconds((one.Db + 60) / 3)),
        5 => RunEvent.Stop,
        6 => RunEvent.Stay(),
        7 => RunEvent.Stay(StayKind.Hold),
        8 => RunEvent.Release,
        9 => RunEvent.Jump(new Seconds((one.Db + 60) / 3)),
        10 or 11 => RunEvent.Take(one.Source, Decibels.Of(one.Db)),
        12 => RunEvent.Back(one.Source, 1),
        _ => RunEvent.Offset(one.Source, Decibels.Of(one.Db / 4)),
    };
}
