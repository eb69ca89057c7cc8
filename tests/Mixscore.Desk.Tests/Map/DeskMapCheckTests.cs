using Mixscore.Planning;
using Mixscore.Score;

namespace Mixscore.Desk.Tests.Map;

public class DeskMapCheckTests
{
    [Fact]
    public void A_plan_that_the_desk_can_carry_has_no_faults()
    {
        foreach (var map in DeskMapReader.Parse(Maps.Both, "hall.desk.yaml")) Assert.Empty(DeskMapCheck.Of(Pieces.Plan(32), map));
    }

    [Fact]
    public void A_strip_beyond_the_desk_is_named()
    {
        var fault = Assert.Single(DeskMapCheck.Of(Pieces.Plan(33), DeskMapReader.Parse(Maps.Midi, "hall.desk.yaml")[0]));
        Assert.Equal(("MX311", new Place("hall.desk.yaml", 5, 3)), (fault.Code, fault.Place));
        Assert.Contains("north.s33: strip 33 would be control 32; with 14 bits it must be 0 to 31", fault.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Strips_that_share_an_address_are_named()
    {
        var map = DeskMapReader.Parse(Maps.Midi.Replace("{strip - 1}", "{strip / 2}", StringComparison.Ordinal), "hall.desk.yaml")[0];
        var fault = Assert.Single(DeskMapCheck.Of(Pieces.Plan(3), map));
        Assert.Equal(("MX312", Severity.Error), (fault.Code, fault.Severity));
        Assert.StartsWith("strips 2 and 3 share", fault.Found, StringComparison.Ordinal);
    }

    [Fact]
    public void A_law_narrower_than_the_plans_faders_is_a_warning()
    {
        var plan = Pieces.Plan(1) with { Limits = new Limits { Bottom = Loudness.Decibels.Of(-90) } };
        var fault = Assert.Single(DeskMapCheck.Of(plan, DeskMapReader.Parse(Maps.Osc, "hall.desk.yaml")[0]));
        Assert.Equal(("MX313", Severity.Warning), (fault.Code, fault.Severity));
    }
}
