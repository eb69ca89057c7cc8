namespace Mixscore.Page;

/// <summary>What the engineer tells a rehearsal.</summary>
/// <param name="Number">The page's own number for it; told back with the sound that obeys it.</param>
internal abstract record Order(uint Number)
{
    internal sealed record Play(uint Number) : Order(Number);

    internal sealed record Pause(uint Number) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Quarters">Where to, from the start as played.</param>
    internal sealed record Jump(uint Number, double Quarters) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Bars">First and last played bar, from 1; <c>null</c> for straight on.</param>
    internal sealed record Loop(uint Number, (int First, int Last)? Bars) : Order(Number);

    /// <param name="Number">The page's number.</param>
    /// <param name="Source">Its place in the plan, from 0.</param>
    /// <param name="Gain">dB; <c>null</c> is off.</param>
    internal sealed record Take(uint Number, int Source, double? Gain) : Order(Number);

    internal sealed record Back(uint Number, int Source) : Order(Number);

    internal sealed record Offset(uint Number, int Source, double Gain) : Order(Number);

    internal sealed record Mute(uint Number, int Source, bool On) : Order(Number);

    internal sealed record Solo(uint Number, int Source, bool On) : Order(Number);

    /// <summary>Every fader stays where it is.</summary>
    internal sealed record Hold(uint Number) : Order(Number);

    internal sealed record AllBack(uint Number) : Order(Number);
}
