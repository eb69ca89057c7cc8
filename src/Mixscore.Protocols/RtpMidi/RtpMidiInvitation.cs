using System.Buffers.Binary;
using System.Text;
using System.Text.Unicode;

namespace Mixscore.Protocols.RtpMidi;

/// <summary>
/// An invitation, its answer, or the end of a session: <c>FF FF</c>, two letters, version 2, token, source, and a name that
/// may be left out.
/// </summary>
/// <param name="Kind">Invite, accept, refuse or end.</param>
/// <param name="Token">Chosen by the one who invites; the same in every answer.</param>
/// <param name="Source">The sender's SSRC.</param>
/// <param name="Name">Who sends; <c>null</c> where it is left out.</param>
public readonly record struct RtpMidiInvitation(RtpMidiSessionKind Kind, uint Token, uint Source, string? Name)
{
    /// <summary>The longest name read, in bytes; our own choice.</summary>
    public const int LongestName = 256;

    private const int FixedBytes = 16;
    private const uint Version = 2;

    /// <summary>The packet's bytes.</summary>
    public byte[] Encode()
    {
        var name = Name is null ? [] : Encoding.UTF8.GetBytes(Name + '\0');
        var bytes = new byte[FixedBytes + name.Length];
        RtpMidiSession.WriteKind(bytes, Kind);
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(4), Version);
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(8), Token);
        BinaryPrimitives.WriteUInt32BigEndian(bytes.AsSpan(12), Source);
        name.CopyTo(bytes, FixedBytes);
        return bytes;
    }

    /// <summary>Reads a packet.</summary>
    /// <returns>False when it is of another kind or version, too short, or its name is too long or not UTF-8.</returns>
    public static bool TryRead(ReadOnlySpan<byte> packet, out RtpMidiInvitation invitation)
    {
        invitation = default;
        var kind = RtpMidiSession.KindOf(packet);
        if (kind is not (RtpMidiSessionKind.Invite or RtpMidiSessionKind.Accept or RtpMidiSessionKind.Refuse or RtpMidiSessionKind.End))
            return false;
        if (packet.Length < FixedBytes || BinaryPrimitives.ReadUInt32BigEndian(packet[4..]) != Version) return false;
        string? name = null;
        if (packet.Length > FixedBytes)
        {
            var text = packet[FixedBytes..];
            var end = text.IndexOf((byte)0);
            if (end >= 0) text = text[..end];
            if (text.Length > LongestName || !Utf8.IsValid(text)) return false;
            name = Encoding.UTF8.GetString(text);
        }
        invitation = new RtpMidiInvitation(kind, BinaryPrimitives.ReadUInt32BigEndian(packet[8..]),
            BinaryPrimitives.ReadUInt32BigEndian(packet[12..]), name);
        return true;
    }
}
