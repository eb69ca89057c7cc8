using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// A slow ship's engine: the orders of six cylinders that do not fire quite alike, twice, the two a little apart in
/// speed; exhaust that puffs with the firing, and a hull that rumbles. It speeds up as it grows louder, answers each
/// note with a push, and stops where the part rests.
/// </summary>
internal sealed class EnginePlayer : Player
{
    // A period is a working cycle, two turns. Its partials are half orders: every sixth is the firing itself.
    private static readonly Wavetable Cycle = new(Order, most: 480, seed: 9);
    private const double Slowest = 210, Fastest = 420;    // turns a minute
    private readonly Wander _load;
    private Resonator _hull, _stack;
    private Follower _loudness = new(0.07, 0.16), _push = new(0.02, 0.2);
    private double _turns = Slowest, _since = 1;
    private uint _port, _starboard;
    private float _rumble, _puff;
    private PlayedNote? _last;

    internal EnginePlayer(PerformedPart part, Timeline timeline, SeededNoise noise) : base(part, timeline, noise, isSung: false)
    {
        _load = new Wander(noise, spread: 1, seconds: 2.5);
        _hull.Tune(92, 30, Rate);
        _stack.Tune(210, 90, Rate);
    }

    private protected override void Play(Span<float> sound, Moment moment)
    {
        if (moment.Note is not null && moment.Note != _last) _since = 0;
        _last = moment.Note ?? _last;
        _since += StrideSeconds;
        // A gap shorter than the engine's own run-down is no stop.
        var runs = moment.Note is not null || (moment.Coming is { } next && next.From - moment.Time < 0.12);
        var load = _load.Next(StrideSeconds);
        var gain = Math.Pow(10, (moment.Level + load) / 20);
        var (loud, louder) = _loudness.Follow(runs ? gain : 0);
        var (push, pushing) = _push.Follow(_since < 0.06 ? 0.35 * gain : 0);
        var speed = Slowest + (Fastest - Slowest) * Math.Clamp((moment.Level + 14) / 28, 0, 1) + 3 * load;
        _turns += (speed - _turns) * (1 - Math.Exp(-StrideSeconds / 0.7));
        if (loud < 1e-6f && push < 1e-6f) return;

        var cycle = Cycle.At(0);
        var (port, starboard) = (Wavetable.Step(_turns / 120, Rate), Wavetable.Step(1.013 * _turns / 120, Rate));
        for (var i = 0; i < sound.Length; i++)
        {
            _port += port;
            _starboard += starboard;
            var noise = Noise.Even();
            var firing = Wavetable.Read(cycle, _port) + 0.7f * Wavetable.Read(cycle, _starboard);
            _rumble += 0.012f * (noise - _rumble);
            _puff += 0.15f * (noise * Math.Abs(firing) - _puff);
            var source = (0.5f * firing + 2.5f * _rumble + 0.5f * _puff) * (loud + louder * i + push + pushing * i);
            sound[i] += 0.35f * source + 1.2f * _hull.Next(source) + 0.9f * _stack.Next(source);
        }
    }

    private static double Order(int half)
    {
        var uneven = half % 6 == 0 ? 1 : half % 3 == 0 ? 0.35 : half % 2 == 0 ? 0.16 : 0.1;
        return uneven / (1 + Math.Pow(half / 45.0, 1.6));
    }
}
