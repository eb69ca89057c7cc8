namespace Mixscore.Protocols.Osc;

/// <summary>A fault and its place. The default value means that all is well.</summary>
/// <param name="Fault">What is wrong.</param>
/// <param name="Offset">Bytes from the beginning of the packet.</param>
public readonly record struct OscProblem(OscFault Fault, int Offset)
{
    /// <summary>True when there is no fault.</summary>
    public bool IsNone => Fault == OscFault.None;

    /// <summary>The fault's name and the byte: <c>ElementSize at byte 16</c>.</summary>
    public override string ToString() => IsNone ? "no fault" : $"{Fault} at byte {Offset}";
}
