using Mixscore.Protocols.Midi;
using Mixscore.Reports;

namespace Mixscore.Steps;

/// <summary>How <c>write</c> writes.</summary>
internal sealed record WriteOptions
{
    /// <summary>The label at the start of the piece, for timecode beside the click; <c>null</c> for none.</summary>
    internal Timecode? Timecode { get; init; }

    /// <summary>What the sheet is printed on.</summary>
    internal SheetPaper Paper { get; init; } = SheetPaper.A4;

    /// <summary>The one source that the sheet shows; <c>null</c> for all.</summary>
    internal string? Source { get; init; }
}
