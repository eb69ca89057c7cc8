namespace Mixscore.Protocols.Osc;

/// <summary>What is wrong with bytes that claim to be OSC. The names are stable.</summary>
public enum OscFault
{
    /// <summary>Nothing.</summary>
    None = 0,

    /// <summary>There are no bytes.</summary>
    Empty,

    /// <summary>The length is not a multiple of 4.</summary>
    NotAligned,

    /// <summary>More bytes than <see cref="OscLimits.Bytes"/>.</summary>
    TooLong,

    /// <summary>Begins neither with <c>/</c> nor with <c>#bundle</c>.</summary>
    NotOsc,

    /// <summary>The bytes end inside a value or a header.</summary>
    Truncated,

    /// <summary>An element's size is below 4, not a multiple of 4, or runs past its bundle.</summary>
    ElementSize,

    /// <summary>Bundles or arrays nest deeper than <see cref="OscLimits.Depth"/>.</summary>
    TooDeep,

    /// <summary>More elements than <see cref="OscLimits.Elements"/>, or arguments than <see cref="OscLimits.Arguments"/>.</summary>
    TooMany,

    /// <summary>An enclosed bundle is due before the one around it.</summary>
    TimeTagOrder,

    /// <summary>The address is not a valid address or pattern.</summary>
    Address,

    /// <summary>Text without its NUL, or not UTF-8.</summary>
    Text,

    /// <summary>A byte that pads to a multiple of 4 is not zero.</summary>
    Padding,

    /// <summary>A tag of no known type; the message is left out.</summary>
    UnknownTag,

    /// <summary>An array is not closed, or closed without having been opened.</summary>
    ArrayBrackets,

    /// <summary>A blob's count is negative or runs past the message.</summary>
    BlobSize,

    /// <summary>Bytes follow the last argument.</summary>
    Trailing,
}
