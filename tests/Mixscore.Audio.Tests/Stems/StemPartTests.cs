using Mixscore.Score;

namespace Mixscore.Audio.Tests.Stems;

public sealed class StemPartTests
{
    // Two channels that count up and down, so that every sample tells its frame and channel.
    private static StemFile Counting(Folder folder) => Sound.Write(folder["both.wav"], [.. Enumerable.Range(0, 48_000).SelectMany(i => new[] { i % 4096 / 8192f, -(i % 4096) / 8192f })], channels: 2);

    [Theory]
    [InlineData(0, null)]
    [InlineData(0.25, 1)]
    [InlineData(0.25, 2)]
    [InlineData(-0.125, 2)]
    [InlineData(-0.125, null)]
    public void A_part_begins_where_it_is_said_to(double start, int? channel)
    {
        using var folder = new Folder();
        var part = Counting(folder).Part(new Seconds(start), channel, default);
        Assert.Equal(48_000 - (int)(start * 48_000), part.Frames);
        using var reader = part.Open();
        var channels = part.Format.Channels;
        foreach (var frame in (long[])[0, 100, 5_999, 6_000, 6_001, 20_000, part.Frames - 1])
        {
            reader.Seek(frame);
            var samples = new float[channels];
            Assert.Equal(channels, reader.Read(samples));
            var whole = frame + (long)(start * 48_000);
            var first = whole < 0 ? 0 : whole % 4096 / 8192f;
            Assert.Equal(channel is null ? [first, -first] : channel == 1 ? [first] : [-first], samples);
        }
    }

    [Fact]
    public void A_start_behind_the_end_and_a_channel_too_many_are_refused()
    {
        using var folder = new Folder();
        var file = Counting(folder);
        Assert.Equal("MX212", Assert.Throws<InputException>(() => file.Part(new Seconds(1), null, default)).Faults[0].Code);
        Assert.Equal("MX213", Assert.Throws<InputException>(() => file.Part(Seconds.Zero, 3, default)).Faults[0].Code);
    }
}
