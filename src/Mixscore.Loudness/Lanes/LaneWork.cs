using System.Runtime.Intrinsics;

namespace Mixscore.Loudness;

/// <summary>The ways in which <see cref="LaneFilter"/> can go over its lanes. They give the same figures to the last bits.</summary>
internal enum LaneKernel
{
    /// <summary>One lane after another, in plain arithmetic that reads like the standard.</summary>
    Plain,

    /// <summary>Four lanes to a vector of 256 bits.</summary>
    Fours,

    /// <summary>Eight lanes to a vector of 512 bits.</summary>
    Eights,
}

/// <summary>How a bank of lanes works. Nothing here changes a figure by more than rounding, nor a peak at all.</summary>
/// <param name="Kernel">How the filter goes over the lanes.</param>
/// <param name="Interpolates">When true peaks are interpolated.</param>
internal readonly record struct LaneWork(LaneKernel Kernel, Interpolates Interpolates = Interpolates.WherePeaksCouldRise)
{
    /// <summary>What this machine does in hardware.</summary>
    public static LaneWork Best =>
        new(Vector512.IsHardwareAccelerated ? LaneKernel.Eights : Vector256.IsHardwareAccelerated ? LaneKernel.Fours : LaneKernel.Plain);
}

/// <summary>When true peaks are interpolated.</summary>
internal enum Interpolates
{
    /// <summary>Where a bound does not prove that they cannot rise.</summary>
    WherePeaksCouldRise,

    /// <summary>Everywhere, to compare with.</summary>
    Everywhere,
}
