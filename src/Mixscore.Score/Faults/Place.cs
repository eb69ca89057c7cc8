using System.Globalization;

namespace Mixscore.Score;

/// <summary>Where in a file something stands.</summary>
/// <param name="File">The file as the user named it.</param>
/// <param name="Line">From 1; 0 where the file has no lines.</param>
/// <param name="Column">From 1; 0 where it is not known.</param>
public readonly record struct Place(string File, int Line = 0, int Column = 0)
{
    /// <summary><c>file(line,column)</c>, as far as known.</summary>
    public override string ToString() => (Line, Column) switch
    {
        (0, _) => File,
        (_, 0) => string.Create(CultureInfo.InvariantCulture, $"{File}({Line})"),
        _ => string.Create(CultureInfo.InvariantCulture, $"{File}({Line},{Column})"),
    };
}
