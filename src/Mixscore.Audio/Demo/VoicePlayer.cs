using Mixscore.Score;

namespace Mixscore.Audio;

/// <summary>
/// A voice: a glottal tone with vibrato and jitter, and breath, through four formants that change with the vowels of the
/// syllables; hissed consonants before them.
/// </summary>
internal sealed class VoicePlayer : Player
{
    private static readonly Wavetable Glottis = new(k => Math.Pow(k, -1.25));
    private static readonly double[] Bandwidths = [90, 110, 170, 250], Shares = [1, 0.55, 0.3, 0.15];
    private const double Middle = 600;
    private readonly double _size;
    private readonly Wander _jitter;
    private readonly double[] _formants = [600, 1200, 2500, 3500];
    private Resonator _first, _second, _third, _fourth, _hiss;
    private Follower _loudness = new(0.035, 0.07), _consonant = new(0.012, 0.02);
    private double _pitch = 60, _since;
    private uint _phase;
    private float _tilted;
    private PlayedNote? _last;

    internal VoicePlayer(PerformedPart part, Timeline timeline, SeededNoise noise) : base(part, timeline, noise, isSung: true)
    {
        // A higher voice has a shorter throat: its formants lie higher, by up to a sixth.
        var pitches = part.Notes.Select(note => note.Pitch ?? 60).Order().ToList();
        var middle = pitches.Count > 0 ? pitches[pitches.Count / 2] : 60;
        _size = 1 + 0.17 * Math.Clamp((middle - 55) / 15.0, 0, 1);
        _jitter = new Wander(noise, spread: 0.06, seconds: 0.08);
        _hiss.Tune(5200, 2500, Rate);
    }

    private protected override void Play(Span<float> sound, Moment moment)
    {
        var isNew = moment.Note is not null && moment.Note != _last;
        if (moment.Note is { } note)
        {
            if (isNew) _since = 0;
            if (_last is null) _pitch = note.Pitch - 0.4;   // it slides in from below
            _pitch += (note.Pitch - _pitch) * (1 - Math.Exp(-StrideSeconds / 0.025));
            if (note.Syllable is { } syllable) Shape(Vowels.Of(syllable), Frequency(note.Pitch));
        }
        _last = moment.Note;
        _since += StrideSeconds;
        var vibrato = 0.3 * Math.Clamp((_since - 0.25) / 0.4, 0, 1) * Math.Sin(2 * Math.PI * 5.4 * moment.Time);
        var hertz = Frequency(_pitch + vibrato + _jitter.Next(StrideSeconds));
        var gain = Math.Pow(10, moment.Level / 20);
        var hisses = moment.Coming is { Syllable: { } next } coming && coming.From - moment.Time < 0.07 && Vowels.BeginsWithHiss(next);
        var (loud, louder) = _loudness.Follow(moment.Note is null ? 0 : gain);
        var (hiss, hissier) = _consonant.Follow(hisses ? 0.35 * gain : 0);
        if (loud < 1e-6f && hiss < 1e-6f) return;

        var period = Glottis.At(hertz);
        var step = Wavetable.Step(hertz, Rate);
        // A louder voice is a brighter one: what passes of the steep low-pass grows with the level.
        var colour = Math.Clamp(900 * Math.Pow(10, moment.Level / 26), 300, 4000);
        var bright = (float)(1 - Math.Exp(-2 * Math.PI * colour / Rate));
        var even = (float)Math.Sqrt(1 + Math.Pow(Middle / colour, 2));   // but no louder, about the first formant, than its level says
        for (var i = 0; i < sound.Length; i++)
        {
            _phase += step;
            var noise = Noise.Even();
            _tilted += bright * (Wavetable.Read(period, _phase) - _tilted);
            var source = (_tilted * even + 0.02f * noise) * (loud + louder * i);
            sound[i] += 0.1f * source
                + (float)Shares[0] * _first.Next(source) - (float)Shares[1] * _second.Next(source)
                + (float)Shares[2] * _third.Next(source) - (float)Shares[3] * _fourth.Next(source)
                + _hiss.Next(noise) * (hiss + hissier * i);
        }
    }

    /// <summary>Moves the formants towards a vowel; the first is drawn along by a pitch that would pass it, as singers do.</summary>
    private void Shape(ReadOnlySpan<double> vowel, double pitch)
    {
        var speed = 1 - Math.Exp(-StrideSeconds / 0.03);
        for (var i = 0; i < _formants.Length; i++)
        {
            var target = vowel[i] * _size;
            if (i == 0) target = Math.Max(target, 1.05 * pitch);
            _formants[i] += (target - _formants[i]) * speed;
        }
        _first.Tune(_formants[0], Bandwidths[0], Rate);
        _second.Tune(Math.Max(_formants[1], 1.3 * _formants[0]), Bandwidths[1], Rate);
        _third.Tune(_formants[2], Bandwidths[2], Rate);
        _fourth.Tune(_formants[3], Bandwidths[3], Rate);
    }

    private static double Frequency(double pitch) => 440 * Math.Pow(2, (pitch - 69) / 12);
}
