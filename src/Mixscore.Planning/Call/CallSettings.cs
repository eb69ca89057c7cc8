namespace Mixscore.Planning;

/// <summary>The plan's <c>call:</c>.</summary>
public sealed record CallSettings
{
    /// <summary>Which bars are called where a site says nothing else.</summary>
    public CallChoice Choice { get; init; } = CallChoice.EveryBar;

    /// <summary>The language, as espeak-ng names it, such as <c>en</c>, <c>de</c>, <c>fr-ch</c>.</summary>
    public string Language { get; init; } = "en";

    /// <summary>A folder of a person's recordings, relative to the plan; <c>null</c> for a machine's voice.</summary>
    public string? Folder { get; init; }

    /// <summary>How a letter is said, with <c>{}</c> for its name; <c>null</c> for what the language says.</summary>
    public string? Letter { get; init; }

    /// <summary>How a later pass is said, with <c>{}</c> for its number; <c>null</c> for what the language says.</summary>
    public string? Time { get; init; }

    /// <summary>How bars of rest are said, with <c>{}</c> for their number; <c>null</c> for what the language says.</summary>
    public string? Rest { get; init; }
}
