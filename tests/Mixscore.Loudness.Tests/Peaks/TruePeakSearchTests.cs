using CsCheck;

namespace Mixscore.Loudness.Tests.Peaks;

public class TruePeakSearchTests
{
    private static readonly Gen<float[]> AnySound = Gen.OneOf(
        Gen.Float[-1, 1].Array[50, 1500],
        Programmes.AnyStretch,
        Gen.Select(Gen.Float[0.001f, 0.2f], Gen.Int[50, 1500], (step, length) =>
            Enumerable.Range(0, length).Select(i => MathF.Sin(step * i) * (1 + i / 500f) / 4).ToArray()));

    // Law: no interpolated value exceeds either bound.
    [Fact]
    public void No_value_exceeds_its_bounds() =>
        Gen.Select(AnySound, Programmes.AnyOf(2, 4)).Sample((samples, ratio) =>
        {
            for (var at = 0; at + 40 < samples.Length; at += 29)
            {
                var window = samples.AsSpan(at, 40);
                var bound = TruePeakBound.Of(ratio)!;
                var peak = TruePeakFilter.Peak(window, ratio);
                var size = SampleSize.Largest(window);
                Assert.True(peak <= bound.ByWhole(size));
                Assert.True(peak <= bound.BySecondDifference(size, SampleSize.LargestSecondDifference(window)));
            }
        }, iter: 100);

    // The bounds are not idle: the worst samples for a phase reach the first, and a slow tone makes the second all but 1.
    [Fact]
    public void The_bounds_are_tight()
    {
        float[] worst = [.. TruePeakFilter.Phases[1].Select(tap => (float)Math.Sign(tap))];
        Assert.Equal(TruePeakBound.Of(4)!.ByWhole(1), TruePeakFilter.Peak(worst, 4), 1e-4);
        Assert.InRange(TruePeakBound.Of(4)!.BySecondDifference(1, 1e-4f), 1, 1.002);
    }

    // Law: skipping changes no bit of the answer, whatever the sound and however it is cut into blocks.
    [Fact]
    public void The_search_finds_what_interpolating_everywhere_finds() =>
        Gen.Select(AnySound.Array[1, 4], Gen.Int[1, 300].Array[1, 9], Programmes.AnyOf(1, 2, 4)).Sample((parts, cuts, ratio) =>
        {
            float[] samples = [.. parts.SelectMany(part => part)];
            TruePeakSearch thrifty = new(ratio, Interpolates.WherePeaksCouldRise), everywhere = new(ratio, Interpolates.Everywhere);
            var lane = new Lane(300);
            for (int at = 0, turn = 0; at < samples.Length; turn++)
            {
                var count = Math.Min(cuts[turn % cuts.Length], samples.Length - at);
                lane.Take(samples.AsSpan(at), 1, count);
                lane.Inspect();
                thrifty.Push(lane);
                everywhere.Push(lane);
                at += count;
            }
            Assert.Equal(everywhere.Peak, thrifty.Peak);
            var whole = new float[TruePeakFilter.History + samples.Length];
            samples.CopyTo(whole, TruePeakFilter.History);
            Assert.Equal(Math.Max(SampleSize.Largest(samples), TruePeakFilter.Peak(whole, ratio)), thrifty.Peak);
        }, iter: 200);

    // A slow tone that does not grow is interpolated at its first crests and then hardly ever.
    [Fact]
    public void What_dies_away_is_not_interpolated()
    {
        var search = new TruePeakSearch(4, Interpolates.WherePeaksCouldRise);
        var lane = new Lane(240);
        for (var block = 0; block < 200; block++)
        {
            lane.Take([.. Enumerable.Range(block * 240, 240).Select(i => MathF.Sin(0.05f * i) * MathF.Exp(-i / 20_000f))], 1, 240);
            lane.Inspect();
            search.Push(lane);
        }
        Assert.InRange(search.Interpolated, 1, 10);
    }

    // Law: with a peak that is known from elsewhere, the higher of both is the peak, whether it was found here or there.
    [Fact]
    public void A_known_peak_changes_nothing_above_it() =>
        Gen.Select(AnySound, Gen.Float[0, 2]).Sample((samples, known) =>
        {
            TruePeakSearch helped = new(4, Interpolates.WherePeaksCouldRise) { Known = known }, alone = new(4, Interpolates.Everywhere);
            var lane = new Lane(300);
            for (var at = 0; at < samples.Length; at += 300)
            {
                lane.Take(samples.AsSpan(at), 1, Math.Min(300, samples.Length - at));
                lane.Inspect();
                helped.Push(lane);
                alone.Push(lane);
            }
            Assert.Equal(Math.Max(known, alone.Peak), Math.Max(known, helped.Peak));
        }, iter: 200);
}
