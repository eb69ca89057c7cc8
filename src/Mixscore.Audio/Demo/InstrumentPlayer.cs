using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>An instrument of the band that its part's name tells: a tone between a soft and a bright colour, breath or bow, and a body.</summary>
internal sealed class InstrumentPlayer : Player
{
    private readonly Instrument _instrument;
    private readonly Wander _jitter;
    private readonly Resonator[] _body;
    private Follower _loudness;
    private Follower _attack = new(0.004, 0.03);
    private double _pitch = 60, _since;
    private uint _phase;
    private PlayedNote? _last;

    internal InstrumentPlayer(PerformedPart part, Timeline timeline, SeededNoise noise) : base(part, timeline, noise, isSung: false)
    {
        _instrument = Instrument.Of(part.Name);
        _loudness = new Follower(_instrument.Rise, _instrument.Fall);
        _jitter = new Wander(noise, spread: 0.025, seconds: 0.1);
        _body = new Resonator[_instrument.Body.Length];
        for (var i = 0; i < _body.Length; i++) _body[i].Tune(_instrument.Body[i], 0.35 * _instrument.Body[i], Rate);
    }

    private protected override void Play(Span<float> sound, Moment moment)
    {
        var isNew = moment.Note is not null && moment.Note != _last;
        if (isNew) _since = 0;
        _since += StrideSeconds;
        if (moment.Note is { } note) _pitch = _last is null ? note.Pitch - 0.15 : _pitch + (note.Pitch - _pitch) * (1 - Math.Exp(-StrideSeconds / _instrument.Slide));
        _last = moment.Note;
        var vibrato = _instrument.Vibrato * Math.Clamp((_since - 0.2) / 0.4, 0, 1) * Math.Sin(2 * Math.PI * 5.1 * moment.Time);
        var hertz = 440 * Math.Pow(2, (_pitch + vibrato + _jitter.Next(StrideSeconds) - 69) / 12);
        var gain = Math.Pow(10, moment.Level / 20);
        var (loud, louder) = _loudness.Follow(moment.Note is null ? 0 : gain);
        var (bite, biting) = _attack.Follow(moment.Note is not null && _since < 0.05 ? gain : 0);
        if (loud < 1e-6f && bite < 1e-6f) return;

        var (soft, bright) = (_instrument.Soft.At(hertz), _instrument.Bright.At(hertz));
        var colour = (float)Math.Clamp((moment.Level + 14) / 26, 0, 1);
        var step = Wavetable.Step(hertz, Rate);
        for (var i = 0; i < sound.Length; i++)
        {
            _phase += step;
            var amplitude = loud + louder * i;
            var tone = Wavetable.Read(soft, _phase);
            tone += colour * (Wavetable.Read(bright, _phase) - tone);
            var source = tone * amplitude + Noise.Even() * (_instrument.Breath * amplitude + _instrument.Bite * (bite + biting * i));
            var body = 0f;
            for (var r = 0; r < _body.Length; r++) body += _body[r].Next(source);
            sound[i] += _instrument.Direct * source + body;
        }
    }
}
