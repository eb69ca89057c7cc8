namespace Mixscore.Protocols.Osc;

/// <summary>What <see cref="OscReader.Read"/> has come to.</summary>
public enum OscToken
{
    /// <summary>Nothing has been read, or nothing is left.</summary>
    None = 0,

    /// <summary>A bundle begins; <see cref="OscReader.TimeTag"/> is its time tag.</summary>
    BundleStart,

    /// <summary>A bundle ends.</summary>
    BundleEnd,

    /// <summary>A message, all of whose arguments are sound.</summary>
    Message,

    /// <summary>An argument; <see cref="OscReader.Tag"/> says of what type.</summary>
    Argument,

    /// <summary>An array begins.</summary>
    ArrayStart,

    /// <summary>An array ends.</summary>
    ArrayEnd,
}
