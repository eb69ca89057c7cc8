namespace Mixscore.Audio;

/// <summary>How a WAV file holds its samples.</summary>
public enum SampleEncoding
{
    /// <summary>Signed integers of two bytes.</summary>
    Pcm16,

    /// <summary>Signed integers of three bytes.</summary>
    Pcm24,

    /// <summary>Signed integers of four bytes; fewer valid bits stand at the top.</summary>
    Pcm32,

    /// <summary>IEEE 754 floats of four bytes, full scale 1.</summary>
    Ieee32,
}
