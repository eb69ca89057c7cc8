using Mixscore.Score;

namespace Mixscore.Planning;

/// <summary>How fast sound travels in air.</summary>
public static class SpeedOfSound
{
    /// <summary>Metres a second at a temperature. Source: ISO 9613-1, c = 343.2·√(T/293.15), T in kelvin. Humidity adds up to 0.6 %, which is left out.</summary>
    /// <param name="celsius">Degrees Celsius, above absolute zero.</param>
    public static double At(double celsius)
    {
        if (!(celsius > -273.15 && double.IsFinite(celsius))) throw new ArgumentOutOfRangeException(nameof(celsius), celsius, "above -273.15");
        return 343.2 * Math.Sqrt((celsius + 273.15) / 293.15);
    }

    /// <summary>How long sound takes over a distance.</summary>
    public static Seconds Over(double metres, double celsius) => new(metres / At(celsius));
}
