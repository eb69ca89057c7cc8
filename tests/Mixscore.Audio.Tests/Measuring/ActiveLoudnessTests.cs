using Mixscore.Loudness;
using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Audio.Tests.Measuring;

/// <summary>Derived: energies are chosen so that the loudness is known.</summary>
public class ActiveLoudnessTests
{
    //  seconds   0 ....... 5 ....... 10 ....... 20
    //            |  rest   |   −30 LUFS         |     a plain 3 s window at 5 s holds half the energy: −33
    [Fact]
    public void A_player_who_enters_after_a_rest_is_not_taken_for_a_soft_one()
    {
        var trace = ActiveLoudness.Of(Stem(from: 5, to: 20, seconds: 20, loudness: -30), new Lufs(-23), 0.1, new Seconds(3));
        Assert.Null(trace.Samples[49].Loudness);
        Assert.Equal(-7, trace.Samples[50].Loudness!.Value.Value, 1e-6);
        Assert.Equal(-7, trace.Samples[120].Loudness!.Value.Value, 1e-6);
    }

    [Fact]
    public void Samples_stand_at_the_asked_distance_over_the_whole_stem()
    {
        var trace = ActiveLoudness.Of(Stem(0, 12, 12, -30), new Lufs(-23), 0.1, new Seconds(3));
        Assert.Equal(120, trace.Samples.Count);
        Assert.Equal(0.1, (trace.Samples[7].At - trace.Samples[6].At).Value, 1e-9);
    }

    private static MeasuredStem Stem(double from, double to, double seconds, double loudness)
    {
        var power = Math.Pow(10, (loudness + 0.691) / 10);
        var hops = Enumerable.Range(0, (int)(seconds * 100)).Select(i => i * 0.01 >= from && i * 0.01 < to ? power : 1e-9).ToArray();
        var site = new Site("near", new Link(Seconds.Zero, OnDrop.Usual), default);
        var source = new Source { Name = "near.voice", Site = site, Role = Role.Voice, Stem = "voice.wav", Strip = 1, Place = default };
        var file = new StemFile { Path = "voice.wav", Format = new SoundFormat(48_000, 1), Encoding = SampleEncoding.Pcm24, Frames = (long)(seconds * 48_000) };
        var measurement = new StemMeasurement { Source = source.Name, Integrated = new Lufs(loudness), Range = null, TruePeak = null, NoiseFloor = null, Active = [new Stretch(new Seconds(from), new Seconds(to))], Drops = [], Bars = [] };
        return new MeasuredStem(new SourceStem(source, file), measurement, EnergyTrack.FromHops(0.01, hops));
    }
}
