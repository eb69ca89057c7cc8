namespace Mixscore.Desk.Tests.Map;

public class EndpointTests
{
    [Theory]
    [InlineData("udp://127.0.0.1:9000", Carrier.Udp, "127.0.0.1", 9000)]
    [InlineData("tcp://desk.local:10023", Carrier.Tcp, "desk.local", 10023)]
    [InlineData("rtp-midi://127.0.0.1:5004", Carrier.RtpMidi, "127.0.0.1", 5004)]
    [InlineData("tcp+slip://desk.local:10023", Carrier.TcpSlip, "desk.local", 10023)]
    [InlineData("udp://[::1]:9000", Carrier.Udp, "::1", 9000)]
    public void An_endpoint_reads_back_as_written(string text, Carrier carrier, string host, int port)
    {
        Assert.True(Endpoint.TryParse(text, out var endpoint, out _));
        Assert.Equal(new Endpoint(carrier, host, port), endpoint);
        Assert.Equal(text, endpoint!.ToString());
    }

    [Fact]
    public void A_device_is_a_path()
    {
        Assert.True(Endpoint.TryParse("midi:/dev/snd/midiC1D0", out var endpoint, out _));
        Assert.Equal((Carrier.MidiDevice, "/dev/snd/midiC1D0"), (endpoint!.Carrier, endpoint.Device));
        Assert.Equal("midi:/dev/snd/midiC1D0", endpoint.ToString());
    }

    [Theory]
    [InlineData("127.0.0.1:9000"), InlineData("http://127.0.0.1:9000"), InlineData("udp://127.0.0.1"), InlineData("udp://:9000")]
    [InlineData("udp://127.0.0.1:0"), InlineData("udp://127.0.0.1:65536"), InlineData("udp://127.0.0.1:x"), InlineData("udp://a b:9"), InlineData("midi:")]
    public void What_is_none_is_refused_in_words(string text)
    {
        Assert.False(Endpoint.TryParse(text, out _, out var problem));
        Assert.NotEmpty(problem!);
    }
}
