namespace Mixscore.Loudness;

/// <summary>
/// What the bits of a float say of a sample. With the sign away, the bits of floats are in the order of the floats, and those of
/// the infinities and NaN above all.
/// </summary>
internal static class SampleBits
{
    /// <summary>All but the sign.</summary>
    public const int Size = 0x7FFF_FFFF;

    /// <summary>Above this magnitude (+240 dBFS) a number is no sound but a fault, as NaN and the infinities are.</summary>
    public static readonly int Loudest = BitConverter.SingleToInt32Bits(1e12f);

    /// <summary>Below this (-500 dBFS) it is silence: smaller ones would bring slow denormal arithmetic and no sound.</summary>
    public static readonly int Softest = BitConverter.SingleToInt32Bits(1e-25f);

    /// <summary>Whether a sample is heard as it is.</summary>
    public static bool AreClean(int size) => size == 0 || (size >= Softest && size <= Loudest);
}
