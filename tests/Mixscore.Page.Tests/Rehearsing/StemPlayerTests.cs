using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Page.Tests;

public sealed class StemPlayerTests : IDisposable
{
    private const int Frames = 480;
    private readonly SmallPiece _piece = new();
    private readonly StemPlayer _player;
    private readonly List<float> _left = [];
    private readonly Decibels?[] _gains = [Decibels.Zero, Decibels.Of(-6)];

    public StemPlayerTests() => _player = new StemPlayer(_piece.Project, Frames);

    public void Dispose()
    {
        _player.Dispose();
        _piece.Dispose();
    }

    [Fact]
    public void Stems_sound_through_their_faders()
    {
        Solo(0);
        _player.Play();
        Run(0.5);
        // Mono in the centre goes by constant power, −3.01 dB a side; the tone has −20 dBFS, the fader 0 dB.
        Assert.Equal(-23.01, Level(0.2, 0.5), 0.02);
        Solo(1);
        Run(0.5);
        Assert.Equal(-39.01, Level(0.7, 1), 0.02);
    }

    [Fact]
    public void A_fader_that_moves_is_heard_by_as_much_as_it_says()
    {
        Solo(0);
        _player.Play();
        Run(0.5);
        _gains[0] = Decibels.Of(-12);
        Run(0.5);
        Assert.Equal(-12, Level(0.8, 1) - Level(0.3, 0.5), 0.01);
        _gains[0] = null;
        Run(0.5);
        Assert.All(_left.Skip((int)(1.1 * SmallPiece.Rate)), sample => Assert.Equal(0, sample));
        Assert.InRange(Roughest(), 0, Smooth);
    }

    [Fact]
    public void Muted_and_left_out_by_a_solo_nothing_is_heard()
    {
        Solo(0);
        _player.Voices[0].IsMuted = true;
        _player.Play();
        Run(0.3);
        Assert.All(_left, sample => Assert.Equal(0, sample));
    }

    // 83 a minute: bars begin between frames. Whoever goes to a bar is in it, not a frame before.
    [Fact]
    public void A_place_that_is_gone_to_is_not_fallen_short_of()
    {
        for (var bar = 0; bar < 5; bar++)
        {
            var place = new Seconds(bar * 4 * 60.0 / 83);
            _player.Jump(place);
            Assert.InRange(_player.Position.Value - place.Value, -1e-7, 1.0 / SmallPiece.Rate);
        }
    }

    // A loop of frames that fit no block: 1.003 s.
    [Fact]
    public void A_loop_comes_round_on_the_frame_without_a_click()
    {
        Solo(0);
        _player.Loop = (48_000, 96_144);
        _player.Jump(new Seconds(1));
        _player.Play();
        Run(3);
        Assert.Equal(48_000 + (3 * SmallPiece.Rate) % 48_144, _player.Frame);
        Assert.InRange(Roughest(), 0, Smooth);
    }

    [Fact]
    public void Playing_pausing_and_jumping_are_without_a_click()
    {
        Solo(0);
        _player.Play();
        Run(0.3);
        _player.Jump(new Seconds(7.12345));
        Run(0.3);
        Assert.InRange(_player.Position.Value, 7.4, 7.43);
        _player.Pause();
        Run(0.1);
        Assert.False(_player.IsPlaying);
        Assert.InRange(Roughest(), 0, Smooth);
    }

    [Fact]
    public void At_the_end_it_stops_and_then_begins_anew()
    {
        _player.Jump(new Seconds(15.9));
        _player.Play();
        Run(0.3);
        Assert.False(_player.IsPlaying);
        _player.Play();
        Run(0.1);
        Assert.Equal(0.1, _player.Position.Value, 0.001);
    }

    // A 997 Hz tone at −23.01 dBFS bends by at most A w²; a fade of 5 ms adds less than as much again (derived).
    private static double Smooth => 2.5 * Math.Pow(10, -23.01 / 20) * Math.Pow(2 * Math.PI * 997 / SmallPiece.Rate, 2);

    private void Solo(int source)
    {
        for (var i = 0; i < _player.Voices.Count; i++) _player.Voices[i].IsSolo = i == source;
    }

    private void Run(double seconds)
    {
        var mixed = new float[2 * Frames];
        for (var block = 0; block < Math.Round(seconds * 100); block++)
        {
            _player.Render(mixed, _gains);
            for (var i = 0; i < Frames; i++) _left.Add(mixed[2 * i]);
        }
    }

    /// <summary>Peak level of the tone in a stretch of what was rendered, dBFS.</summary>
    private double Level(double from, double to)
    {
        var part = _left.Skip((int)(from * SmallPiece.Rate)).Take((int)((to - from) * SmallPiece.Rate)).ToArray();
        return 10 * Math.Log10(2 * part.Average(sample => (double)sample * sample));
    }

    private double Roughest() => Enumerable.Range(2, _left.Count - 2).Max(i => Math.Abs((double)_left[i] - 2 * _left[i - 1] + _left[i - 2]));
}
