namespace Mixscore.Loudness.Tests;

/// <summary>A night of ten hours, hop by hop, as the filters would give it.</summary>
public class LongRunTests
{
    private const int Hops = 10 * 3600 * HopGrid.HopsPerSecond;

    // What a bounded history gives away, as it is stated: a threshold at most 0.01 LU off, and each end of the range 0.01 LU.
    // On levels that are spread evenly over 40 LU neither can move a figure by more than this.
    private const double Integrated = 0.002, Range = 0.03;

    [Fact]
    public void Ten_hours_take_no_more_memory_and_read_what_exact_gating_reads()
    {
        LoudnessFigures exact = new(default, Measure.All), bounded = new(default, Measure.All, History.Bounded);
        var night = new Night();
        for (var hop = 0; hop < HopGrid.HopsPerSecond * 60; hop++) Hear(night.Next());
        var read = (bounded.Integrated, bounded.Range);
        Assert.NotNull(read.Range);
        var taken = 0L;
        for (var hop = HopGrid.HopsPerSecond * 60; hop < Hops; hop++)
        {
            var energy = night.Next();
            var before = GC.GetAllocatedBytesForCurrentThread();
            bounded.AddHop(energy);
            if (hop % 1000 == 0) read = (bounded.Integrated, bounded.Range);
            taken += GC.GetAllocatedBytesForCurrentThread() - before;
            exact.AddHop(energy);
        }
        Assert.Equal(0, taken);
        Assert.Equal(36_000, bounded.Seconds);
        Assert.Equal((exact.Momentary, exact.ShortTerm, exact.MaxMomentary), (bounded.Momentary, bounded.ShortTerm, bounded.MaxMomentary));
        Assert.Equal(exact.Integrated!.Value.Value, bounded.Integrated!.Value.Value, Integrated);
        Assert.Equal(exact.Range!.Value.Value, bounded.Range!.Value.Value, Range);

        void Hear(double energy)
        {
            exact.AddHop(energy);
            bounded.AddHop(energy);
        }
    }

    /// <summary>Levels from -80 to -10 LUFS that stay for seconds, with silences.</summary>
    private sealed class Night
    {
        private readonly Random _random = new(1);
        private double _level;
        private int _left;

        public double Next()
        {
            if (_left-- == 0)
            {
                _left = _random.Next(2000);
                _level = _random.Next(6) == 0 ? 0 : 480 * new Lufs(-80 + 70 * _random.NextDouble()).ToMeanSquare();
            }
            return _level * (0.5 + _random.NextDouble());
        }
    }
}
