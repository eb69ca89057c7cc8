using System.Globalization;

namespace Mixscore.Planning;

/// <summary>Which bars are called.</summary>
/// <param name="Every">Every so-manieth bar by its printed number; 0 for none but letters.</param>
/// <param name="Letters">Whether rehearsal letters are called.</param>
public readonly record struct CallChoice(int Every, bool Letters)
{
    /// <summary>The most bars between two that are called.</summary>
    public const int MostBars = 64;

    /// <summary>Every bar, and letters.</summary>
    public static CallChoice EveryBar { get; } = new(1, true);

    /// <summary>Letters alone.</summary>
    public static CallChoice LettersOnly { get; } = new(0, true);

    /// <summary>Nothing but the count-in.</summary>
    public static CallChoice Off { get; } = new(0, false);

    /// <summary>Whether a bar's number is called.</summary>
    /// <param name="label">As printed; one that is no number is called where every bar is.</param>
    public bool Calls(string label) => Every == 1
        || (Every > 1 && int.TryParse(label, NumberStyles.None, CultureInfo.InvariantCulture, out var number) && number % Every == 0);
}
