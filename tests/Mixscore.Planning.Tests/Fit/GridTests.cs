using CsCheck;
using Mixscore.Score;
using static Mixscore.Planning.Tests.Fit.Night;

namespace Mixscore.Planning.Tests.Fit;

// Derived by hand: a beat is a quarter is a second, four to the bar; at 24 dB/s a move of 12 dB takes half a beat.
public sealed class GridTests
{
    [Theory]
    [InlineData(VertexGrid.Halves, "0:-18 31/2:-18 16:-6 80:-6")]
    [InlineData(VertexGrid.Beats, "0:-18 15:-18 16:-6 80:-6")]
    [InlineData(VertexGrid.Bars, "0:-18 12:-18 16:-6 80:-6")]
    public void A_step_is_a_move_over_as_few_places_as_its_grid_and_the_speed_allow(VertexGrid grid, string ride) =>
        Assert.Equal(ride, Spoken(Fitted(Source(Line(Held(0, 16, -18), Held(16, 80, -6)), _ => 0, within: 0.5) with { Grid = grid }).Ride));

    // From -60 to -18 are 42 dB: a beat and three quarters.
    [Theory]
    [InlineData(VertexGrid.Halves, "0:off 14:off 16:-18 62:-18 64:off 80:off")]
    [InlineData(VertexGrid.Bars, "0:off 12:off 16:-18 60:-18 64:off 80:off")]
    public void Fades_in_and_out_of_off_stand_on_the_grid(VertexGrid grid, string ride) =>
        Assert.Equal(ride, Spoken(Fitted(Source(Line(Off(0, 16), Held(16, 64, -18), Off(64, 80)), _ => 0) with { Grid = grid }).Ride));

    // Whatever stands on bar lines stands on beats, and whatever stands on beats on the halves.
    [Fact]
    public void A_finer_grid_never_adds_a_vertex() =>
        Wandering.Sample(loudness =>
        {
            var source = Source(Line(Held(0, 80, -18)), loudness);
            var fitted = new[] { VertexGrid.Bars, VertexGrid.Beats, VertexGrid.Halves }.Select(grid => Fitted(source with { Grid = grid })).ToArray();
            for (var i = 0; i + 1 < fitted.Length; i++)
                if (fitted[i].Widened.Count == 0) Assert.InRange(fitted[i + 1].Ride.Vertices.Count, 2, fitted[i].Ride.Vertices.Count);
        }, iter: 60);

    [Theory]
    [InlineData(VertexGrid.Halves, 0.5)]
    [InlineData(VertexGrid.Beats, 1)]
    [InlineData(VertexGrid.Bars, 4)]
    public void Vertices_stand_on_the_grid_alone(VertexGrid grid, double step) =>
        Wandering.Sample(loudness =>
            Assert.All(Fitted(Source(Line(Held(0, 33, -18), Held(33, 80, -9)), loudness) with { Grid = grid }).Ride.Vertices,
                vertex => Assert.Equal(0, vertex.At.ToDouble() % step)), iter: 40);

    [Fact]
    public void Each_source_has_its_own_and_one_may_lean_on_another()
    {
        var horn = Source(Line(Held(0, 16, -18), Held(16, 80, -10)), _ => 0, "horn", within: 0.5) with { Grid = VertexGrid.Bars };
        var engine = Source(Line(Lean(0, 80, -8, "horn")), _ => 0, "engine", within: 0.5) with { Grid = VertexGrid.Halves };
        var fitted = RideFitter.Fit(Bars, new Limits(), [engine, horn]);
        Assert.All(fitted[1].Ride.Vertices, vertex => Assert.Equal(0, vertex.At.ToDouble() % 4));
        foreach (var t in Enumerable.Range(0, 801).Select(i => i / 10.0))
            Assert.Equal(fitted[1].Ride.At(t)!.Value.Value - 8, fitted[0].Ride.At(t)!.Value.Value, 0.5 + 1e-6);
    }

    // The loudness dips by 12 dB for a beat in the middle of a bar: no straight move from bar line to bar line follows that.
    [Fact]
    public void What_a_coarse_grid_cannot_follow_is_told()
    {
        var stretch = Assert.Single(Fitted(Source(Line(Held(0, 80, -20)), t => t is > 41.5 and < 42.5 ? -12 : 0) with { Grid = VertexGrid.Bars }, speed: 1000).Widened);
        Assert.Equal(Because.TooNarrow, stretch.Because);
        Assert.Contains("swells and falls within a bar", stretch.Text, StringComparison.Ordinal);
        Assert.True(stretch.From <= new Quarters(40) && stretch.To >= new Quarters(44));
    }

    /// <summary>A loudness that wanders by up to 6 dB either way.</summary>
    private static Gen<Func<double, double?>> Wandering =>
        Gen.Select(Gen.Double[0, 3].Array[2], Gen.Double[0.02, 0.5].Array[2], (waves, rates) =>
            (Func<double, double?>)(t => waves[0] * Math.Sin(t * rates[0]) + waves[1] * Math.Cos(t * rates[1])));
}
