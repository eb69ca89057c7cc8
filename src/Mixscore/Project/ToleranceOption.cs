using System.Globalization;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Project;

/// <summary>How near is near enough, as a person wrote it behind <c>--tolerance</c>.</summary>
internal static class ToleranceOption
{
    /// <exception cref="InputException">It is none.</exception>
    internal static Decibels Read(double decibels) => decibels is > 0 and <= 12
        ? Decibels.Of(decibels)
        : throw new InputException(new Fault("MX602", new Place("--tolerance"), string.Create(CultureInfo.InvariantCulture, $"{decibels} dB is no tolerance"), "write more than 0 and up to 12"));
}
