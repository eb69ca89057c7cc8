using Mixscore.Protocols.RtpMidi;

namespace Mixscore.Protocols.Tests.RtpMidi;

// RFC 6295, section 3.2: F0 … F0 the first segment, F7 … F0 a middle one, F7 … F7 the last, … F4 calls the message off.
public sealed class ExclusiveSegmentsTests
{
    [Theory]
    [InlineData("F0 01 02 F7", "0102")]
    [InlineData("F0 F7", "")]
    [InlineData("F0 01 F0|F7 02 F0|F7 03 F7", "010203")]
    [InlineData("F0 01 F0|F7 F7", "01")]
    [InlineData("F0 01 F0|F7 02 F4|F7 03 F7")]
    [InlineData("F7 02 F7")]
    [InlineData("F0 01 F0|F0 09 F7", "09")]
    [InlineData("F0 01 F0|lost|F7 02 F7")]
    [InlineData("F0 01 F4|F0 02 F7", "02")]
    public void Segments_make_a_message(string segments, params string[] messages)
    {
        var put = new ExclusiveSegments();
        var got = new List<string>();
        foreach (var segment in segments.Split('|'))
            if (segment == "lost") put.Drop();
            else if (put.Take(Convert.FromHexString(segment.Replace(" ", "", StringComparison.Ordinal)), out var whole)) got.Add(Convert.ToHexString(whole));
        Assert.Equal(messages, got);
    }

    [Fact]
    public void A_message_without_end_takes_no_more_than_its_room()
    {
        var put = new ExclusiveSegments();
        put.Take([0xF0, 1, 0xF0], out _);
        for (var i = 0; i < 100; i++) Assert.False(put.Take([0xF7, .. new byte[100], 0xF0], out _));
        Assert.False(put.Take([0xF7, 1, 0xF7], out _));
        Assert.True(put.Take([0xF0, 1, 0xF7], out _));
    }
}
