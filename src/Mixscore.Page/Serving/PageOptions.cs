using System.Net;

namespace Mixscore.Page;

/// <summary>How a page is served.</summary>
public sealed record PageOptions
{
    /// <summary>The port; 0 for any that is free; <c>null</c> for the project's own, or any where that is taken.</summary>
    public int? Port { get; init; }

    /// <summary>The address of this machine at which the network reaches it, too; <c>null</c> for this machine alone.</summary>
    public IPAddress? Listen { get; init; }

    /// <summary>What browsers on the network must say; <c>null</c> only where <see cref="Listen"/> is.</summary>
    public PassPhrase? PassPhrase { get; init; }

    /// <summary>The clock by which browsers are waited for and guesses are slowed.</summary>
    public TimeProvider Time { get; init; } = TimeProvider.System;
}
