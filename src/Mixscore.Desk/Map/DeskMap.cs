using Mixscore.Score;

namespace Mixscore.Desk;

/// <summary>How a venue's desk is reached: one document of a <c>*.desk.yaml</c> file.</summary>
public sealed record DeskMap
{
    /// <summary>The title.</summary>
    public required string Title { get; init; }

    /// <summary>What the desk speaks.</summary>
    public required DeskProtocol Protocol { get; init; }

    /// <summary>Where moves are sent.</summary>
    public required Endpoint To { get; init; }

    /// <summary>Where the desk's own moves arrive; <c>null</c> where it sends none.</summary>
    public Endpoint? Listen { get; init; }

    /// <summary>The fader of a strip.</summary>
    public required DeskFader Fader { get; init; }

    /// <summary>The switch that lets a strip sound or not; <c>null</c> where the map gives none.</summary>
    public DeskSwitch? Mute { get; init; }

    /// <summary>The level that the desk reports of a strip; <c>null</c> where the map gives none.</summary>
    public DeskFader? Meter { get; init; }

    /// <summary>Where the document begins.</summary>
    public required Place Place { get; init; }
}

/// <summary>What a desk speaks.</summary>
public enum DeskProtocol
{
    /// <summary>Open Sound Control 1.0.</summary>
    Osc,

    /// <summary>MIDI 1.0.</summary>
    Midi,
}

/// <summary>The fader of a strip.</summary>
/// <param name="Control">How it is addressed.</param>
/// <param name="Law">How gain becomes a number.</param>
/// <param name="Place">Where it stands in the map.</param>
public sealed record DeskFader(DeskControl Control, FaderLaw Law, Place Place)
{
    /// <summary>How the desk itself addresses what it reports; <c>null</c> where it does so as it is addressed.</summary>
    public DeskControl? Feedback { get; init; }

    /// <summary>How the desk addresses what it reports.</summary>
    public DeskControl Reported => Feedback ?? Control;
}

/// <summary>The switch of a strip.</summary>
/// <param name="Control">How it is addressed.</param>
/// <param name="On">The value with which the strip sounds.</param>
/// <param name="Off">The value with which it does not.</param>
/// <param name="Place">Where it stands in the map.</param>
public sealed record DeskSwitch(DeskControl Control, double On, double Off, Place Place);
