namespace Mixscore;

/// <summary>How a run ended, as scripts see it.</summary>
internal static class ExitCode
{
    /// <summary>All is well.</summary>
    internal const int Good = 0;

    /// <summary>A check fell short.</summary>
    internal const int Short = 1;

    /// <summary>Bad input or usage.</summary>
    internal const int BadInput = 2;

    /// <summary>A file, port or device was not available.</summary>
    internal const int Unavailable = 3;

    /// <summary>A fault of Mixscore's own: 70, as sysexits.h of the BSD systems counts.</summary>
    internal const int Broken = 70;

    /// <summary>Stopped from the keyboard: 128 and the number of the signal, as shells count.</summary>
    internal const int Interrupted = 130;
}
