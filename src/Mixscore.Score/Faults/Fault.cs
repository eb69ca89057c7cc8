namespace Mixscore.Score;

/// <summary>One thing that is wrong with what the user gave: where, what was found, and what would be right.</summary>
/// <param name="Code">Stable, such as <c>MX104</c>; tests assert it, not the prose.</param>
/// <param name="Place">File, line and column, as far as known.</param>
/// <param name="Found">What stands there and why it cannot be taken.</param>
/// <param name="Remedy">What would be right; empty where there is nothing to say.</param>
/// <param name="Severity">Whether it stops the work.</param>
public sealed record Fault(string Code, Place Place, string Found, string Remedy = "", Severity Severity = Severity.Error)
{
    /// <summary>One line: place, what was found, the remedy and the code.</summary>
    public override string ToString() =>
        $"{Place}: {(Severity == Severity.Warning ? "warning: " : "")}{Found}{(Remedy.Length > 0 ? "; " + Remedy : "")}. [{Code}]";
}

/// <summary>How much a fault matters.</summary>
public enum Severity
{
    /// <summary>The input cannot be used.</summary>
    Error,

    /// <summary>The input can be used; something in it was not taken, or needs a look.</summary>
    Warning,
}
