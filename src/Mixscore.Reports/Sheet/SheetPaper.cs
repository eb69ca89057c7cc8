namespace Mixscore.Reports;

/// <summary>The paper that a sheet is printed on.</summary>
/// <param name="Width">In points of 1/72 inch, as it is held.</param>
/// <param name="Height">In points.</param>
public readonly record struct SheetPaper(double Width, double Height)
{
    /// <summary>210 × 297 mm (ISO 216), upright.</summary>
    public static SheetPaper A4 { get; } = new(595.28, 841.89);

    /// <summary>8.5 × 11 in, upright.</summary>
    public static SheetPaper Letter { get; } = new(612, 792);

    /// <summary>The same paper, turned.</summary>
    public SheetPaper Turned => new(Height, Width);
}
