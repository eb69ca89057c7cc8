using CsCheck;
using Mixscore.Protocols.RtpMidi;
using Mixscore.Protocols.Tests.Midi;

namespace Mixscore.Protocols.Tests.RtpMidi;

public sealed class RtpMidiSessionTests
{
    // The session exchange in common use, as a public vendor document and open-source libraries give it; bytes derived.
    [Fact]
    public void An_invitation_has_its_bytes()
    {
        var invitation = new RtpMidiInvitation(RtpMidiSessionKind.Invite, 0x01020304, 0x0A0B0C0D, "hall");
        Assert.Equal("ffff494e" + "00000002" + "01020304" + "0a0b0c0d" + "68616c6c00", Convert.ToHexStringLower(invitation.Encode()));
        Assert.Equal("ffff4259" + "00000002" + "00000001" + "00000002",
            Convert.ToHexStringLower(new RtpMidiInvitation(RtpMidiSessionKind.End, 1, 2, null).Encode()));
    }

    [Fact]
    public void Invitations_come_back() => Gen.Select(Gen.Int[0, 3], Gen.UInt, Gen.UInt, Gen.OneOf<string?>(null, "", "hall", "Bühne"))
        .Sample((which, token, source, name) =>
        {
            RtpMidiSessionKind[] kinds = [RtpMidiSessionKind.Invite, RtpMidiSessionKind.Accept, RtpMidiSessionKind.Refuse, RtpMidiSessionKind.End];
            var invitation = new RtpMidiInvitation(kinds[which], token, source, name);
            return RtpMidiInvitation.TryRead(invitation.Encode(), out var back) && back == invitation
                && RtpMidiSession.KindOf(invitation.Encode()) == kinds[which];
        });

    // Derived from the formulas in public code: t1 = 1000, t2 = 5020, t3 = 1040 give −4000 units and a round trip of 40.
    [Fact]
    public void Three_times_give_offset_and_round_trip()
    {
        var clock = new RtpMidiClockPacket(7, 2, 1000, 5020, 1040);
        Assert.Equal((-4000, 40), (clock.Offset, clock.RoundTrip));
        var bytes = new byte[36];
        Assert.Equal(36, clock.Write(bytes));
        Assert.Equal("ffff434b" + "00000007" + "02000000" + "00000000000003e8" + "000000000000139c" + "0000000000000410",
            Convert.ToHexStringLower(bytes));
        Assert.True(RtpMidiClockPacket.TryRead(bytes, out var back));
        Assert.Equal(clock, back);
    }

    [Fact]
    public void Feedback_comes_back()
    {
        var bytes = new byte[12];
        Assert.Equal(12, new RtpMidiFeedback(0x01020304, 0x00010005).Write(bytes));
        Assert.Equal("ffff5253" + "01020304" + "00010005", Convert.ToHexStringLower(bytes));
        Assert.True(RtpMidiFeedback.TryRead(bytes, out var back));
        Assert.Equal(new RtpMidiFeedback(0x01020304, 0x00010005), back);
    }

    [Theory]
    [InlineData("")]
    [InlineData("ffff494e")]
    [InlineData("ffff494e 00000003 01020304 0a0b0c0d")]
    [InlineData("ffff494e 00000002 01020304 0a0b0c0d ff00")]
    [InlineData("ffff5858 00000002 01020304 0a0b0c0d")]
    [InlineData("80e10102 00000304 05060708 00000000")]
    [InlineData("ffff434b 00000007 03000000")]
    [InlineData("ffff5253 00000007")]
    public void What_is_no_session_packet_is_refused(string hex)
    {
        var packet = MidiParserTests.Hex(hex);
        Assert.False(RtpMidiInvitation.TryRead(packet, out _));
        Assert.False(RtpMidiClockPacket.TryRead(packet, out _));
        Assert.False(RtpMidiFeedback.TryRead(packet, out _));
    }

    [Fact]
    public void Random_bytes_never_trouble_the_readers() => Gen.Byte.Array[0, 50].Sample(bytes =>
    {
        byte[] packet = [0xFF, 0xFF, .. "INCKRS"u8[..2], .. bytes];
        var read = RtpMidiInvitation.TryRead(packet, out var invitation);
        return read == (invitation.Kind == RtpMidiSessionKind.Invite);
    }, iter: Fuzz.Count(5_000));
}
