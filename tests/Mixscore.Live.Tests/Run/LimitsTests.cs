using CsCheck;
using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live.Tests.Run;

/// <summary>The law of safety: whatever happens, in whatever order, no output moves faster than the limit that applies.</summary>
public class LimitsTests
{
    private static readonly int Cases = Environment.GetEnvironmentVariable("MIXSCORE_LONG") is null ? 5_000 : 100_000;

    private static readonly Gen<(int At, int What, int Source, double Db, double Seconds)> Happening =
        Gen.Select(Gen.Int[0, 220], Gen.Int[0, 20], Gen.Int[0, 2], Gen.Double[-70, 14], Gen.Double[0, 32]);

    [Fact]
    public void No_output_moves_faster_than_the_limit_that_applies() => Happening.Array[0, 25].Select(Gen.Bool, Gen.Int[0, 80], Gen.Bool, (happenings, ownClick, delay, midi) => (happenings, ownClick, delay, midi))
        .Sample(night => Play(night.happenings, night.ownClick, night.delay, night.midi), iter: Cases);

    private static void Play((int At, int What, int Source, double Db, double Seconds)[] happenings, bool ownClick, int delay, bool midi)
    {
        var map = midi ? Pieces.Midi : Pieces.Osc;
        var plan = Pieces.Three(delay);
        var sent = new List<StripValue>();
        var desk = new RunDesk(map, [1, 2, 3], values =>
        {
            foreach (var value in values) sent.Add(value);
            return true;
        });
        var run = new LiveRun(plan, ownClick ? new OwnClick() : new ChaseClock(), [desk], new RunSettings { CountInBars = 0 });
        var order = happenings.OrderBy(happening => happening.At).ToArray();
        var (gains, known, held) = (new double[3], new bool[3], new bool[3]);
        var law = map.Fader.Law;
        for (var (tick, next, ms) = (0, 0, 0.0); tick <= 240; tick++)
        {
            var now = TimeSpan.FromMilliseconds(ms += 20);
            for (; next < order.Length && order[next].At <= tick; next++)
            {
                var (at, what, source, db, seconds) = order[next];
                Decibels? gain = db < -60 ? null : Decibels.Of(Math.Min(db, 10));
                // A machine that stood still for a while: its ticks are gone, and the clock has gone on.
                if (what == 20) ms += 500;
                // Where the desk says that its fader is, it is.
                if (what == 18) known[source] = false;
                run.Post(what switch
                {
                    0 or 1 => RunEvent.Arm,
                    2 => RunEvent.Disarm,
                    3 => RunEvent.Start(new Seconds(seconds)),
                    4 => RunEvent.Stop,
                    5 => RunEvent.Stay(),
                    6 => RunEvent.Stay(StayKind.Hold),
                    7 => RunEvent.Release,
                    8 => RunEvent.Jump(new Seconds(seconds)),
                    9 or 10 => RunEvent.Take(source, gain),
                    11 => RunEvent.Move(source, Decibels.Of(db)),
                    12 or 13 => RunEvent.Back(source, Math.Abs(db) / 4),
                    14 => RunEvent.Offset(source, Decibels.Of(db / 3)),
                    15 => RunEvent.HoldAll,
                    16 => RunEvent.AllBack(),
                    17 => RunEvent.Link(source, db > -30),
                    18 => RunEvent.Desk(0, new StripValue(source + 1, StripPart.Fader, law.Sent(gain))),
                    _ => RunEvent.Clock(new ClockPoint(now, new Seconds(seconds), ClockSignal.Moving)),
                });
            }
            if (!ownClick && tick % 5 == 0) run.Post(RunEvent.Clock(new ClockPoint(now, new Seconds(now.TotalSeconds * 1.005), ClockSignal.Moving)));
            sent.Clear();
            run.Tick(now);
            var picture = run.View.Look();
            foreach (var value in sent)
            {
                var i = value.Strip - 1;
                var gain = law.ToGain(value.Value)?.Value ?? law.Lowest.Value;
                var most = ((picture.Sources[i].Holder == Holder.InHand || held[i] ? 120 : 24) * 0.02) + Rounding(law, gain) + Rounding(law, gains[i]) + 1e-6;
                if (known[i] && Math.Abs(gain - gains[i]) > most) throw new InvalidOperationException($"strip {value.Strip} from {gains[i]:0.000} to {gain:0.000} at tick {tick}, {picture.Sources[i].Holder}");
                (gains[i], known[i]) = (gain, true);
            }
            for (var i = 0; i < 3; i++)
            {
                held[i] = picture.Sources[i].Holder == Holder.InHand;
                // What the desk itself moved, and what it was not told while disarmed, is its own affair.
                if (picture.Sources[i].HandDesk is not null || !picture.IsArmed) known[i] = false;
            }
        }
    }

    private static double Rounding(FaderLaw law, double gain) => law.StepAt(Decibels.Of(gain)).Value / 2;
}
