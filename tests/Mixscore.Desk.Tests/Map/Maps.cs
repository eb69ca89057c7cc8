namespace Mixscore.Desk.Tests.Map;

/// <summary>The maps of the design, section 4, as they stand there.</summary>
internal static class Maps
{
    public const string Osc = """
        title: A desk that speaks OSC
        protocol: osc
        to: udp://127.0.0.1:9000
        listen: udp://127.0.0.1:9001
        strip:
          fader: { address: "/strip/{strip}/fader", type: f, off: 0.0,
                   law: [[-60, 0.05], [-30, 0.25], [-10, 0.5], [0, 0.75], [+10, 1.0]] }   # dB, value; straight between
          mute:  { address: "/strip/{strip}/on", type: i, on: 1, off: 0 }
        """;

    public const string Midi = """
        title: A desk that speaks MIDI
        protocol: midi
        to: rtp-midi://127.0.0.1:5004
        strip:
          fader: { channel: 1, control: "{strip - 1}", bits: 14, off: 0, law: [[-60, 800], [0, 12288], [+10, 16383]] }
        """;

    public const string Both = Osc + "\n---\n" + Midi;
}
