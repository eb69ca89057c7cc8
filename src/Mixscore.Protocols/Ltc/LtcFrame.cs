using Mixscore.Protocols.Midi;

namespace Mixscore.Protocols.Ltc;

/// <summary>
/// The 80 bits of a frame of linear timecode (SMPTE 12M): bit 0 is sent first and is the lowest bit here. User groups and
/// flags other than drop-frame are zero when written and not looked at when read.
/// </summary>
internal static class LtcFrame
{
    internal const int Bits = 80;

    // SMPTE 12M, bits 64 to 79: 0011 1111 1111 1101 in the order of sending.
    private const ushort Sync = 0xBFFC;
    private const int DropBit = 10;

    // Where each figure's units and tens stand, and how many bits its tens have.
    private static readonly (int Units, int Tens, int TensBits)[] Figures = [(0, 8, 2), (16, 24, 3), (32, 40, 3), (48, 56, 2)];

    internal static UInt128 Encode(Timecode label)
    {
        var bits = (UInt128)Sync << 64;
        ReadOnlySpan<int> values = [label.Frames, label.Seconds, label.Minutes, label.Hours];
        for (var i = 0; i < values.Length; i++)
            bits |= ((UInt128)(values[i] % 10) << Figures[i].Units) | ((UInt128)(values[i] / 10) << Figures[i].Tens);
        if (label.Rate == TimecodeRate.Frames30Drop) bits |= UInt128.One << DropBit;
        // The polarity bit makes the number of zeros even, so that each frame begins with the same edge. Bit 27, at 25
        // frames bit 59; the latter from memory, unverified.
        if ((int)UInt128.PopCount(bits) % 2 != 0) bits |= UInt128.One << (label.Rate == TimecodeRate.Frames25 ? 59 : 27);
        return bits;
    }

    internal static bool HasSync(UInt128 bits) => (ushort)(bits >> 64) == Sync;

    internal static bool IsDrop(UInt128 bits) => ((uint)bits >> DropBit & 1) == 1;

    /// <summary>False when the figures are no label at this rate.</summary>
    internal static bool TryDecode(UInt128 bits, TimecodeRate rate, out Timecode label)
    {
        label = default;
        Span<int> values = stackalloc int[Figures.Length];
        for (var i = 0; i < values.Length; i++)
        {
            var units = (int)(bits >> Figures[i].Units) & 0x0F;
            if (units > 9) return false;
            values[i] = units + (10 * ((int)(bits >> Figures[i].Tens) & ((1 << Figures[i].TensBits) - 1)));
        }
        if (!Timecode.IsLabel(rate, values[3], values[2], values[1], values[0])) return false;
        label = new Timecode(rate, values[3], values[2], values[1], values[0]);
        return true;
    }
}
