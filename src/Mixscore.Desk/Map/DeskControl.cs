namespace Mixscore.Desk;

/// <summary>How one control of a strip is addressed on the wire.</summary>
public abstract record DeskControl
{
    private protected DeskControl()
    {
    }

    /// <summary>What kind of number it takes.</summary>
    public abstract WireNumber Number { get; }

    /// <summary>The address of a strip's control as a person would write it; equal for two strips only where they share it.</summary>
    /// <param name="strip">From 1.</param>
    /// <returns><c>null</c> where the map gives that strip no address; <see cref="ProblemOf"/> says why.</returns>
    public abstract string? NameOf(int strip);

    /// <summary>Why a strip has no address, in words; <c>null</c> where it has one.</summary>
    /// <param name="strip">From 1.</param>
    public abstract string? ProblemOf(int strip);

    /// <summary>How many bytes one message, or the messages that go together, take on the wire, without running status.</summary>
    /// <param name="strip">From 1.</param>
    /// <exception cref="ArgumentException">The strip has no address.</exception>
    public abstract int BytesOf(int strip);
}
