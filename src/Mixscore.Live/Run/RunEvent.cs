using Mixscore.Desk;
using Mixscore.Loudness;
using Mixscore.Score;

namespace Mixscore.Live;

/// <summary>Something that reaches a run from outside, by one of the named methods. Sources and desks count from 0.</summary>
public readonly record struct RunEvent
{
    private RunEvent(RunEventKind kind) => Kind = kind;

    /// <summary>What it is.</summary>
    public RunEventKind Kind { get; }

    /// <summary>Which source, or which desk.</summary>
    public int Index { get; private init; }

    /// <summary>The value that a desk reports.</summary>
    public StripValue Value { get; private init; }

    /// <summary>A gain; <c>null</c> is off.</summary>
    public Decibels? Gain { get; private init; }

    /// <summary>Where to start or to jump to; <c>null</c> where none is named.</summary>
    public Seconds? At { get; private init; }

    /// <summary>Over how many beats; <c>null</c> for as many as the run's settings say.</summary>
    public double? Beats { get; private init; }

    /// <summary>Yes or no.</summary>
    public bool Is { get; private init; }

    /// <summary>What a clock said.</summary>
    public ClockPoint Point { get; private init; }

    /// <summary>Words; <c>null</c> for none.</summary>
    public string? Text { get; private init; }

    /// <summary>What another run says of itself; <c>null</c> for nothing.</summary>
    internal TwinState? Other { get; private init; }

    /// <summary>Perform instead of the run that is followed.</summary>
    public static RunEvent TakeOver => new(RunEventKind.TakeOver);

    /// <summary>Another run says where it is.</summary>
    internal static RunEvent Twin(TwinState other) => new(RunEventKind.Twin) { Other = other };

    /// <summary>Send from now on.</summary>
    public static RunEvent Arm => new(RunEventKind.Arm);

    /// <summary>Send nothing from now on.</summary>
    public static RunEvent Disarm => new(RunEventKind.Disarm);

    /// <summary>Stop.</summary>
    public static RunEvent Stop => new(RunEventKind.Stop);

    /// <summary>Go on, in whatever way it stays.</summary>
    public static RunEvent Release => new(RunEventKind.Release);

    /// <summary>Take all where they stand.</summary>
    public static RunEvent HoldAll => new(RunEventKind.HoldAll);

    /// <summary>A desk reports a value.</summary>
    public static RunEvent Desk(int desk, StripValue value) => new(RunEventKind.Desk) { Index = desk, Value = value };

    /// <summary>A desk's wire is open, or no longer.</summary>
    public static RunEvent Wire(int desk, bool isOpen) => new(RunEventKind.Wire) { Index = desk, Is = isOpen };

    /// <summary>The clock from outside said something.</summary>
    public static RunEvent Clock(ClockPoint point) => new(RunEventKind.Clock) { Point = point };

    /// <summary>Begin.</summary>
    /// <param name="at">Where, by the click; <c>null</c> for the beginning, or for the bar where it was stopped.</param>
    public static RunEvent Start(Seconds? at = null) => new(RunEventKind.Start) { At = at };

    /// <summary>Stay on the bar, playing it over and over; or stand still.</summary>
    public static RunEvent Stay(StayKind kind = StayKind.Loop) => new(RunEventKind.Stay) { Is = kind == StayKind.Hold };

    /// <summary>Go elsewhere at the next barline.</summary>
    public static RunEvent Jump(Seconds to) => new(RunEventKind.Jump) { At = to };

    /// <summary>Take a source to a gain.</summary>
    public static RunEvent Take(int source, Decibels? gain) => new(RunEventKind.Take) { Index = source, Gain = gain };

    /// <summary>Take a source where it stands, or move it by so many dB.</summary>
    public static RunEvent Move(int source, Decibels by) => new(RunEventKind.Move) { Index = source, Gain = by };

    /// <summary>The most beats over which a source can return.</summary>
    public const double MostBeats = 1000;

    /// <summary>Hand a source back.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The beats are not between 0 and <see cref="MostBeats"/>.</exception>
    public static RunEvent Back(int source, double? beats = null) => new(RunEventKind.Back) { Index = source, Beats = Checked(beats) };

    /// <summary>Set what is added to the plan.</summary>
    public static RunEvent Offset(int source, Decibels offset) => new(RunEventKind.Offset) { Index = source, Gain = offset };

    /// <summary>Hand all back.</summary>
    /// <exception cref="ArgumentOutOfRangeException">The beats are not between 0 and <see cref="MostBeats"/>.</exception>
    public static RunEvent AllBack(double? beats = null) => new(RunEventKind.AllBack) { Beats = Checked(beats) };

    /// <summary>A source's feed is there, or is gone.</summary>
    public static RunEvent Link(int source, bool isUp) => new(RunEventKind.Link) { Index = source, Is = isUp };

    /// <summary>A note for the log.</summary>
    public static RunEvent Note(string text) => new(RunEventKind.Note) { Text = text };

    private static double? Checked(double? beats) => beats is null or (>= 0 and <= MostBeats)
        ? beats
        : throw new ArgumentOutOfRangeException(nameof(beats), beats, $"beats are 0 to {MostBeats}");
}
