using System.Collections.Concurrent;

namespace Mixscore.Audio.Tests;

/// <summary>Noise as a failing link makes it, with a mean square of 1, and what plays while it does.</summary>
internal static class LinkNoise
{
    public const int Rate = 48_000;
    private const int Reach = 127;
    private static readonly ConcurrentDictionary<string, float[]> Minutes = new();

    /// <summary>White noise, or Gaussian noise through a windowed sinc that lets pass what lies under a frequency.</summary>
    public static float[] Of(int frames, double? cut, SeededNoise noise, int rate = Rate)
    {
        if (cut is not { } hertz) return [.. Enumerable.Range(0, frames).Select(_ => (float)(Math.Sqrt(3) * noise.Even()))];
        var raw = Enumerable.Range(0, frames + 2 * Reach).Select(_ => noise.Normal()).ToArray();
        var taps = Enumerable.Range(-Reach, 2 * Reach + 1).Select(i => Sinc(2 * hertz / rate * i) * (0.5 + 0.5 * Math.Cos(Math.PI * i / (Reach + 1)))).ToArray();
        var gain = 1 / Math.Sqrt(taps.Sum(tap => tap * tap));
        var filtered = new float[frames];
        for (var i = 0; i < frames; i++)
        {
            var sum = 0.0;
            for (var k = 0; k < taps.Length; k++) sum += taps[k] * raw[i + k];
            filtered[i] = (float)(gain * sum);
        }
        return filtered;
    }

    /// <summary>A minute of one of the demo's players, as loud as a stem is, with the wind and the hiss of its site.</summary>
    public static float[] Played(string player) => [.. Minutes.GetOrAdd(player, Play)];

    private static float[] Play(string player)
    {
        const int Bars = 15;
        var timeline = Piece.Of(Bars);
        var noise = new SeededNoise(7);
        var sound = new float[4 * Bars * Rate];
        Player plays = player switch
        {
            "voice" => new VoicePlayer(Demo.Parts.Part("P1", "Voice", [.. Notes(62, "Sing", "ships", "that", "pass", "far", "from", "shore")], [Demo.Parts.Mark(0, "mp"), Demo.Parts.Mark(24, "f")]), timeline, noise),
            "horn" => new InstrumentPlayer(Demo.Parts.Part("P2", "Horn", [.. Notes(55, null)], [Demo.Parts.Mark(0, "mf")]), timeline, noise),
            "engine" => new EnginePlayer(Demo.Parts.Part("P3", "Engine", [.. Enumerable.Range(0, 4 * Bars).Select(i => Demo.Parts.Note(i, 1, null))], [Demo.Parts.Mark(0, "p"), Demo.Parts.Mark(30, "f")]), timeline, noise),
            _ => throw new ArgumentOutOfRangeException(nameof(player), player, "voice, horn or engine"),
        };
        plays.Play(sound, 0);
        var gain = (float)Math.Pow(10, (-22 - Level(sound)) / 20);
        foreach (ref var sample in sound.AsSpan()) sample *= gain;
        Weather.Add(sound, -60, noise);
        return sound;

        // Notes of a second, with a rest after every sixth.
        static IEnumerable<Mixscore.Score.PerformedNote> Notes(int lowest, params string?[]? syllables) => Enumerable.Range(0, 4 * Bars)
            .Where(i => i % 8 < 6).Select(i => Demo.Parts.Note(i, 1, lowest + i * 5 % 12, syllables?[i % syllables.Length]));
    }

    /// <summary>Decibels of the mean square of the louder half.</summary>
    public static double Level(ReadOnlySpan<float> sound)
    {
        const int Block = Rate / 20;
        var powers = new List<double>();
        for (var at = 0; at + Block <= sound.Length; at += Block) powers.Add(Power(sound.Slice(at, Block)));
        return 10 * Math.Log10(powers.Order().Skip(powers.Count / 2).Average());
    }

    private static double Power(ReadOnlySpan<float> sound)
    {
        var sum = 0.0;
        foreach (var sample in sound) sum += (double)sample * sample;
        return sum / sound.Length;
    }

    private static double Sinc(double x) => x == 0 ? 1 : Math.Sin(Math.PI * x) / (Math.PI * x);
}
