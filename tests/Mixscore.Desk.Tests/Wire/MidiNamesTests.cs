namespace Mixscore.Desk.Tests.Wire;

public sealed class MidiNamesTests
{
    [Theory]
    [InlineData("Desk In", 1), InlineData("desk in", 1), InlineData("2", 2), InlineData("Key", 0), InlineData("Desk", null), InlineData("3", null), InlineData("Organ", null)]
    public void A_device_is_found_by_its_name_or_its_number(string wanted, int? found) => Assert.Equal(found, MidiNames.Find(wanted, ["Keyboard", "Desk In", "Desk In 2"]));
}
