using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Page.Tests;

public sealed class StemPlayerTests : IDisposable
{
    private const int Frames = 480;
    private readonly SmallPiece _piece = new();
    private readonly StemPlayer _player;
    private readonly List<float> _left = [];

    public StemPlayerTests() => _player = new StemPlayer(_piece.Project, Frames);

    public void Dispose()
    {
        _player.Dispose();
        _piece.Dispose();
    }

    [Fact]
    public void Stems_sound_through_their_rides()
    {
        Solo(0);
        _player.Play();
        Run(0.5);
        // Mono in the centre goes by constant power, −3.01 dB a side; the tone has −20 dBFS, the ride 0 dB.
        Assert.Equal(-23.01, Level(0.2, 0.5), 0.02);
        Solo(1);
        Run(0.5);
        Assert.Equal(-39.01, Level(0.7, 1), 0.02);
    }

    [Fact]
    public void A_hand_moves_what_is_heard_by_as_much_as_it_says_and_no_faster_than_a_hand_may()
    {
        Solo(0);
        _player.Play();
        Run(0.5);
        _player.Voices[0].Hand.Take(Decibels.Of(-12));
        Run(0.5);
        Assert.Equal(-12, Level(0.8, 1) - Level(0.3, 0.5), 0.05);
        // 12 dB at 120 dB a second are a tenth of a second: half of the way is gone after half of it.
        Assert.Equal(-6, Level(0.545, 0.555) - Level(0.3, 0.5), 1);
        Assert.Equal(Holder.InHand, _player.Voices[0].Hand.Holder);
    }

    [Fact]
    public void Handed_back_it_glides_to_the_plan_and_is_planned_again()
    {
        _player.Play();
        _player.Voices[0].Hand.Take(Decibels.Of(-12));
        Run(0.5);
        _player.Voices[0].Hand.HandBack();
        Run(0.2);
        Assert.Equal(Holder.Returning, _player.Voices[0].Hand.Holder);
        Run(0.5);
        Assert.Equal((Holder.Planned, 0.0), (_player.Voices[0].Hand.Holder, _player.Voices[0].Hand.Gain!.Value.Value));
    }

    [Fact]
    public void An_offset_is_added_to_the_plan_without_taking_it()
    {
        _player.Play();
        Run(0.1);
        _player.Voices[1].Hand.Offset = Decibels.Of(3);
        Run(0.5);
        Assert.Equal((Holder.Planned, -3.0), (_player.Voices[1].Hand.Holder, _player.Voices[1].Hand.Gain!.Value.Value));
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
            _player.Render(mixed);
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
